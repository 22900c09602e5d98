// Starts the page: loads the wasm and tells it where its workers and the demo plot lie.
import init, { start_page } from "./{{app/app.js}}";
import { keepOffline } from "./{{offline.js}}";
import { trust } from "./{{trusted.js}}";

const at = (file) => new URL(file, import.meta.url).href;
const workers = [at("./{{keeper.js}}"), at("./{{judge.js}}"), at("./{{sheets.js}}"), at("./{{writer.js}}")];

trust([...workers, "service-worker.js"]);
await init();
start_page(...workers, at("./{{demo-plot.zip}}"));
keepOffline().catch(() => {}); // Without it the page works as long as there is a network.
