// A site whose versions a journey publishes one after another, with the headers of the real one.
import { createServer } from "node:http";
import { existsSync, readFileSync } from "node:fs";
import { extname, join, normalize } from "node:path";
import { target } from "./browser.js";

const KINDS = {
  ".html": "text/html", ".js": "text/javascript", ".css": "text/css", ".wasm": "application/wasm",
  ".webmanifest": "application/manifest+json", ".svg": "image/svg+xml", ".png": "image/png", ".webp": "image/webp",
};

/** Serves what was built as version `1`; `publish` puts another version in its place. */
export async function publishing() {
  const dist = join(target, "dist");
  let version = "1";
  let asked = [];
  const server = createServer((request, response) => {
    const path = normalize(new URL(request.url, "http://localhost").pathname);
    asked.push(path);
    const name = path === "/" ? "index.html" : path.slice(1);
    const file = join(dist, name);
    if (!existsSync(file)) {
      response.writeHead(404).end();
      return;
    }
    let bytes = readFileSync(file);
    if (name === "service-worker.js") {
      bytes = bytes.toString().replace(/const VERSION = "/, `$&${version}-`);
    }
    if (name === "index.html") {
      bytes = bytes.toString().replace("<html ", `<html data-version="${version}" `);
    }
    response.writeHead(200, {
      "content-type": KINDS[extname(name)] ?? "application/octet-stream",
      "cache-control": name.endsWith(".html") || name === "service-worker.js" ? "no-cache" : "max-age=31536000",
    }).end(bytes);
  });
  await new Promise((resolve) => { server.listen(0, "localhost", resolve); });
  return {
    address: `http://localhost:${server.address().port}/`,
    publish: (next) => { version = next; },
    /** What was asked for since this was called last. */
    asked: () => asked.splice(0),
    close: () => { server.closeAllConnections(); server.close(); },
  };
}
