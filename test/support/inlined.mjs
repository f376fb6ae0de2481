/**
 * Script that can stand inside a page: nothing in it ends the element or starts a comment.
 *
 * @param {string} text
 * @returns {string}
 */
export function inlined(text) {
  return text
    .replace(/<\/script/gi, "<\\/script")
    .replaceAll("<!--", "\\x3c!--")
    .replace(/\n$/, "");
}
