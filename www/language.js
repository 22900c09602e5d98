// The language of the page: the one chosen here, else the first of the browser's own that there
// is. English stands in the code; of another the texts are fetched. How numbers and days are
// written is the browser's own knowledge of the place that it is set to.
const TEXTS = { de: "./{{words/de.txt}}" };
const KEY = "leeward-language";
// What parts records and fields (ASCII's separators), as the code reads them.
const [RECORD, FIELD] = ["\x1e", "\x1f"];

const speaks = (tag) => tag.split("-")[0];
const there = (language) => language === "en" || language in TEXTS;

export function chosen() {
  let kept = null;
  try {
    kept = localStorage.getItem(KEY);
  } catch {
    // A browser that keeps nothing speaks as it is set.
  }
  return [kept ?? "", ...navigator.languages.map(speaks), "en"].find(there);
}

// What a worker is asked for beside its address, so that it speaks as the page does.
export const asked = (language) => (language === "en" ? "" : `?${language}`);
export const ofWorker = () => self.location.search.slice(1) || "en";

// The locale in one record, and behind it the texts; English where they cannot be had.
export async function words(language) {
  const text = TEXTS[language];
  const answer = text && await fetch(new URL(text, import.meta.url)).catch(() => undefined);
  const texts = answer?.ok ? RECORD + await answer.text() : "";
  return locale(text && !texts ? "en" : language) + texts;
}

// Some browsers name a place that their own tables do not take ("en-US@posix").
function isPlace(tag) {
  try {
    return Intl.getCanonicalLocales(tag).length > 0;
  } catch {
    return false;
  }
}

// The sign before decimals, a day as `{day} {month} {year}`, the months as a day names them.
function locale(language) {
  const place = navigator.languages.find((tag) => speaks(tag) === language && isPlace(tag)) ?? language;
  const plain = { numberingSystem: "latn" };
  const sign = new Intl.NumberFormat(place, plain).formatToParts(1.5)
    .find(({ type }) => type === "decimal").value;
  const days = new Intl.DateTimeFormat(place, { ...plain, dateStyle: "long", calendar: "gregory", timeZone: "UTC" });
  const day = (month) => days.formatToParts(Date.UTC(2031, month, 14));
  const month = (nth) => day(nth).find(({ type }) => type === "month").value;
  const pattern = day(5).map(({ type, value }) => (type === "literal" ? value : `{${type}}`)).join("");
  return [sign, pattern, ...Array.from({ length: 12 }, (_, nth) => month(nth))].join(FIELD);
}
