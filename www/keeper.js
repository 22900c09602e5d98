// The keeper's worker: keeps early messages until the wasm is there, then hands every one over.
import init, { keeper_hears } from "./{{app.js}}";

const early = [];
let hear = (message) => early.push(message);
self.onmessage = (event) => hear(event.data);

await init();
hear = keeper_hears;
early.splice(0).forEach(hear);
