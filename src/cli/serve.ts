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
  const hosts = [`127.0.0.1:${portOf(server)}`, `localhost:${portOf(server)}`];
  const { host, origin } = request.headers;
  const refuse = (status: number, words: string) => {
    response.writeHead(status, { "content-type": "text/plain; charset=utf-8", ...GUARDS }).end(`${words}\n`);
  };
  if (host === undefined || !hosts.includes(host.toLowerCase())) return refuse(421, "this page is for this machine only");
  if (origin !== undefined && !hosts.some((own) => origin.toLowerCase() === `http://${own}`)) {
    return refuse(403, "this page is not for other sites");
  }
  const site = request.headers["sec-fetch-site"];
  if (site === "cross-site" && request.headers["sec-fetch-mode"] !== "navigate") {
    return refuse(403, "this page is not for other sites");
  }
  if (request.method !== "GET" && request.method !== "HEAD") return refuse(405, "only GET");
  if (request.url !== "/") return refuse(404, "there is one page here: /");
  response.writeHead(200, {
    "content-type": "text/html; charset=utf-8",
    "content-length": page.length,
    "cache-control": "no-store",
    ...GUARDS,
  });
  response.end(request.method === "HEAD" ? undefined : page);
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
