// The worker that reads workbooks: it says when it listens.
import init from "./{{sheets/sheets.js}}";

await init();
