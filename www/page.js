// Starts the page: loads the wasm and tells it where its workers and the demo plot lie.
import init, { speak, start_page } from "./{{app/app.js}}";
import { asked, chosen, words } from "./{{language.js}}";
import { keepOffline } from "./{{offline.js}}";
import { trust } from "./{{trusted.js}}";

const language = chosen();
const at = (file) => new URL(file, import.meta.url).href;
const workers = ["./{{keeper.js}}", "./{{judge.js}}", "./{{sheets.js}}", "./{{writer.js}}"]
  .map((file) => at(file) + asked(language));

document.documentElement.lang = language;
trust([...workers, "service-worker.js"]);
const [spoken] = await Promise.all([words(language), init()]);
speak(spoken);
start_page(...workers, at("./{{demo-plot.zip}}"));
keepOffline().catch(() => {}); // Without it the page works as long as there is a network.
