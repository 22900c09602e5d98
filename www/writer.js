// The worker that writes a plot as one file: it says when it listens.
import init from "./{{writer/writer.js}}";

await init();
