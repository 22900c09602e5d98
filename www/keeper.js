// The keeper's worker: keeps early messages until what was kept is read back, then hands every
// one over.
import init, { keeper_hears, keeper_starts, speak } from "./{{app/app.js}}";
import { ofWorker, words } from "./{{language.js}}";

const early = [];
let hear = (message) => early.push(message);
self.onmessage = (event) => hear(event.data);

const [spoken] = await Promise.all([words(ofWorker()), init()]);
speak(spoken);
keeper_starts();
hear = keeper_hears;
early.splice(0).forEach(hear);
