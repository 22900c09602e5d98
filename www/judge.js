// The judge's worker: keeps early messages until the wasm listens, then hands every one over.
import init from "./{{judge/judge.js}}";

const early = [];
self.onmessage = (event) => early.push(event);

await init();
early.splice(0).forEach((event) => self.onmessage(event));
