// Starts the page: loads the wasm and tells it where its workers and the demo plot lie.
import init, { start_page } from "./{{app/app.js}}";
import { keepOffline } from "./{{offline.js}}";

const at = (file) => new URL(file, import.meta.url).href;

await init();
start_page(at("./{{keeper.js}}"), at("./{{judge.js}}"), at("./{{sheets.js}}"), at("./{{writer.js}}"), at("./{{demo-plot.zip}}"));
keepOffline().catch(() => {}); // Without it the page works as long as there is a network.
