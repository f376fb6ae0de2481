import { createServer, type IncomingMessage, type Server, type ServerResponse } from "node:http";
import type { AddressInfo } from "node:net";

/** A page served to this machine alone. */
export interface PageServer {
  readonly url: string;
  close(): Promise<void>;
}

/**
 * Serves one page on the loopback. A request that names another host (a foreign name made to point here), comes from another
 * site, or asks for anything else is refused.
 *
 * @param port 0 for any that is free
 */
export async function servePage(page: string, port: number): Promise<PageServer> {
  const bytes = Buffer.from(page, "utf8");
  const server = createServer((request, response) => answer(server, bytes, request, response));
  server.headersTimeout = 10_000;
  await new Promise<void>((resolve, reject) => {
    server.once("error", reject);
    server.listen(port, "127.0.0.1", resolve);
  });
  return {
    url: `http://127.0.0.1:${portOf(server)}/`,
    close: () =>
      new Promise((resolve) => {
        server.close(() => resolve());
        server.closeAllConnections();
      }),
  };
}

function portOf(server: Server): number {
  return (server.address() as AddressInfo).port;
}

function answer(server: Server, page: Buffer, request: IncomingMessage, response: ServerResponse): void {
  const refused = refusal(request, [`127.0.0.1:${portOf(server)}`, `localhost:${portOf(server)}`]);
  if (refused !== null) {
    response.writeHead(refused.status, { "content-type": "text/plain; charset=utf-8", ...GUARDS });
    response.end(`${refused.words}\n`);
    return;
  }
  response.writeHead(200, {
    "content-type": "text/html; charset=utf-8",
    "content-length": page.length,
    "cache-control": "no-store",
    ...GUARDS,
  });
  response.end(request.method === "HEAD" ? undefined : page);
}

/** Why a request is not answered; null where it is. */
function refusal({ headers, method, url }: IncomingMessage, hosts: readonly string[]) {
  const { host, origin } = headers;
  if (host === undefined || !hosts.includes(host.toLowerCase())) {
    return { status: 421, words: "this page is for this machine only" };
  }
  const isOwn = origin === undefined || hosts.some((own) => origin.toLowerCase() === `http://${own}`);
  const isFetched = headers["sec-fetch-site"] === "cross-site" && headers["sec-fetch-mode"] !== "navigate";
  if (!isOwn || isFetched) return { status: 403, words: "this page is not for other sites" };
  if (method !== "GET" && method !== "HEAD") return { status: 405, words: "only GET" };
  return url === "/" ? null : { status: 404, words: "there is one page here: /" };
}

/** The page's own policy stands in its head; these keep it out of frames and its content from being guessed at. */
const GUARDS = {
  "content-security-policy": "frame-ancestors 'none'",
  "cross-origin-opener-policy": "same-origin",
  "cross-origin-resource-policy": "same-origin",
  "referrer-policy": "no-referrer",
  "x-content-type-options": "nosniff",
  "x-frame-options": "DENY",
};
