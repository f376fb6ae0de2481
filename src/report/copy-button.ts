import { html, type Markup, raw } from "./html.ts";

/** Shows the buttons that need it and puts the text of what they name on the clipboard; nothing else. */
const SCRIPT =
  "for(const b of document.querySelectorAll('[data-copy]')){b.hidden=false;b.addEventListener('click',async()=>{const e=document.getElementById(b.dataset.copy),s=b.nextElementSibling;try{await navigator.clipboard.writeText(e.textContent);s.textContent='Copied.'}catch{getSelection().selectAllChildren(e);s.textContent=document.execCommand('copy')?'Copied.':'Selected: copy it with Ctrl+C.'}})}";

/** What the page's policy lets run: this script to the letter, and no other (SHA-256, base64). */
export const COPY_SCRIPT_HASH = "sha256-XnkyKhQ73HFxbCzEyuGeM0lRwQ+MxRSTJkGvhD7TYcI=";

/** A button that copies the text of an element; it is not there where scripts are off. */
export function copyButton(id: string, words: string): Markup {
  return html`<p class="copy"><button type="button" data-copy="${id}" hidden>${words}</button> <span role="status"></span></p>`;
}

export function copyScript(): Markup {
  return html`<script>${raw(SCRIPT)}</script>
`;
}
