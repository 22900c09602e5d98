// Folder's two ways in: a list, and positions from a receiver.
import { link } from "./keeping.js";

const way = (head, open, field, look) => ({
  /** Opens it. */
  async begin(page) {
    await link(page, "Folder");
    await page.getByRole("button", { name: open }).click();
    await page.getByLabel(field).waitFor();
  },
  /** Hands in a file. */
  handIn: (page, name, content) => page.locator(`section[aria-labelledby=${head}] .list-input`)
    .setInputFiles({ name, mimeType: "application/octet-stream", buffer: Buffer.from(content) }),
  /** Pastes text, and has it looked at. */
  async paste(page, text) {
    await page.getByLabel(field).fill(text);
    await page.getByRole("button", { name: look }).click();
  },
  /** The field to paste into. */
  field: (page) => page.getByLabel(field),
});

export const lists = way("folder-list", "Bring in a list", "Or paste a table", "Look at what was pasted");
export const positions =
  way("folder-positions", "Bring in positions", "Or paste positions", "Look at these positions");
