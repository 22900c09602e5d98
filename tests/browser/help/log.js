// Reads the keeper's logs from outside of the page's code: the same format, written down twice.

const TABLE = Uint32Array.from({ length: 256 }, (_, byte) => {
  let sum = byte;
  for (let bit = 0; bit < 8; bit += 1) sum = sum & 1 ? (sum >>> 1) ^ 0xedb88320 : sum >>> 1;
  return sum;
});

const crc32 = (bytes) =>
  (bytes.reduce((sum, byte) => TABLE[(sum ^ byte) & 255] ^ (sum >>> 8), 0xffffffff) ^ 0xffffffff) >>> 0;

/** The records of a log in order, and how many bytes belong to no whole record. */
export function records(log) {
  const whole = [];
  let at = 0;
  for (;;) {
    const head = /^\+(\w) (\d+) ([0-9a-f]{8})\n/.exec(log.subarray(at, at + 40).toString("latin1"));
    if (!head) break;
    const from = at + head[0].length;
    const to = from + Number(head[2]);
    const payload = log.subarray(from, to);
    const sum = crc32(Buffer.concat([Buffer.from(head[1]), payload]));
    if (log[to] !== 10 || sum !== Number.parseInt(head[3], 16)) break;
    whole.push({ kind: head[1], payload: payload.toString() });
    at = to + 1;
  }
  return { whole, torn: log.length - at };
}

/** The lines of scores that a log holds, as cells. */
export const lines = (log) =>
  records(log).whole.filter(({ kind }) => kind === "L").map(({ payload }) => payload.trim().split(","));

/** The log of each plot in the page's file storage. */
export async function plotLogs(page) {
  const found = await page.evaluate(async () => {
    const folder = await (await navigator.storage.getDirectory()).getDirectoryHandle("leeward");
    const logs = [];
    for await (const entry of folder.values()) {
      if (entry.name === "shelf.log" || !entry.name.endsWith(".log")) continue;
      const bytes = new Uint8Array(await (await entry.getFile()).arrayBuffer());
      // A letter a byte: millions of numbers one by one take a driver a minute.
      let text = "";
      for (let at = 0; at < bytes.length; at += 8192) {
        text += String.fromCharCode(...bytes.subarray(at, at + 8192));
      }
      logs.push(text);
    }
    return logs;
  });
  return found.map((text) => Buffer.from(text, "latin1"));
}

/** The log of the only plot there is. */
export async function plotLog(page) {
  const logs = await plotLogs(page);
  if (logs.length !== 1) throw new Error(`${logs.length} plots`);
  return logs[0];
}

/** The log of the only plot in the page's database. */
export async function plotLogInBase(page) {
  const found = await page.evaluate(async () => {
    const done = (request) => new Promise((resolve, reject) => {
      request.onsuccess = () => resolve(request.result);
      request.onerror = () => reject(request.error);
    });
    const base = await done(indexedDB.open("leeward-logs"));
    const store = base.transaction("kept").objectStore("kept");
    const [keys, pieces] = await Promise.all([done(store.getAllKeys()), done(store.getAll())]);
    base.close();
    return pieces.filter((_, nth) => keys[nth][0] !== "shelf.log").flatMap((piece) => Array.from(piece));
  });
  return Buffer.from(found);
}

/** Changes every log by a function from its bytes to its new ones, once no tab holds it. */
export async function changeLogs(page, which, to) {
  // Sent as text: the page's policy makes no function of words.
  await page.evaluate(`(${change})(${JSON.stringify(which)}, ${to})`);
}

async function change(which, to) {
  const folder = await (await navigator.storage.getDirectory()).getDirectoryHandle("leeward");
  for await (const entry of folder.values()) {
    if ((entry.name === "shelf.log") !== (which === "shelf")) continue;
    const bytes = new Uint8Array(await (await entry.getFile()).arrayBuffer());
    for (let tries = 0; ; tries += 1) {
      try {
        const stream = await entry.createWritable();
        await stream.write(to(bytes));
        await stream.close();
        break;
      } catch (error) {
        // The closed tab may still hold the log for a moment.
        if (tries === 50) throw error;
        await new Promise((resolve) => { setTimeout(resolve, 100); });
      }
    }
  }
}

/** The record of a kind, as the keeper writes it. */
export function record(kind, payload) {
  const sum = crc32(Buffer.from(kind + payload)).toString(16).padStart(8, "0");
  return `+${kind} ${Buffer.byteLength(payload)} ${sum}\n${payload}\n`;
}
