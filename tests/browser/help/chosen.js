// A folder on the machine. The picker cannot be driven, so it gives a folder handle of the browser's
// own file system, `chosen`: the same interface, by the same calls.
import { open, ready } from "./browser.js";
import { openLittle } from "./keeping.js";

/** A visit with the little plot open, whose picker gives the folder, which holds these files. */
export async function visitWithFolder(address, files = {}) {
  const visit = await open();
  await visit.context.addInitScript(() => {
    window.showDirectoryPicker = async () =>
      (await navigator.storage.getDirectory()).getDirectoryHandle("chosen", { create: true });
  });
  await visit.page.goto(address);
  await ready(visit.page);
  await write(visit.page, files);
  await openLittle(visit.page);
  return visit;
}

/** Writes files into the folder as another program would. */
export const write = (page, files) => page.evaluate(async (all) => {
  const folder = await (await navigator.storage.getDirectory()).getDirectoryHandle("chosen", { create: true });
  for (const [name, text] of Object.entries(all)) {
    const stream = await (await folder.getFileHandle(name, { create: true })).createWritable();
    await stream.write(text);
    await stream.close();
  }
}, files);

/** What the folder holds, but for a file that is moved into place meanwhile: by its old name it is
 * gone, by its new one it changed between being found and being read. */
export const held = (page) => page.evaluate(async () => {
  const folder = await (await navigator.storage.getDirectory()).getDirectoryHandle("chosen");
  const files = {};
  for await (const entry of folder.values()) {
    try {
      files[entry.name] = await (await entry.getFile()).text();
    } catch (error) {
      if (!["NotFoundError", "NotReadableError"].includes(error.name)) throw error;
    }
  }
  return files;
});

/** Waits until the folder's files are as they should be. */
export async function heldSo(page, is) {
  let files = {};
  for (let tries = 0; tries < 75; tries += 1) {
    files = await held(page);
    if (is(files)) return files;
    await page.waitForTimeout(200);
  }
  throw new Error(JSON.stringify(files, null, 1));
}
