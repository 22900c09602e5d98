// The worker that reads workbooks: it says when it listens.
import init, { speak } from "./{{sheets/sheets.js}}";
import { ofWorker, words } from "./{{language.js}}";

const spoken = await words(ofWorker());
await init();
speak(spoken);
