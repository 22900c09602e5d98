// The worker that writes a plot as one file: it says when it listens.
import init, { speak } from "./{{writer/writer.js}}";
import { ofWorker, words } from "./{{language.js}}";

const spoken = await words(ofWorker());
await init();
speak(spoken);
