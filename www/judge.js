// The judge's worker: keeps early messages until the wasm listens, then hands every one over.
import init, { speak } from "./{{judge/judge.js}}";
import { ofWorker, words } from "./{{language.js}}";

const early = [];
self.onmessage = (event) => early.push(event);

const spoken = await words(ofWorker());
await init();
speak(spoken);
early.splice(0).forEach((event) => self.onmessage(event));
