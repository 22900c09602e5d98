// What whoever does not see, or uses no mouse, meets on a page: what has the keyboard, names and
// roles, what is cut.
import assert from "node:assert/strict";

/** What has the keyboard now, as the eye and a screen reader find it. */
export const stop = (page) => page.evaluate(() => {
  const it = document.activeElement;
  if (!it || it === document.body) return { name: "", role: "body" };
  const text = (element) => (element?.innerText ?? element?.textContent ?? "").replace(/\s+/g, " ").trim();
  const name = it.getAttribute("aria-label")
    || text(document.getElementById(it.getAttribute("aria-labelledby") ?? " "))
    || (it.labels?.length ? text(it.labels[0]) : "") || text(it) || it.getAttribute("placeholder") || "";
  // A file field and some others lie unseen on what shows them.
  const isUnseen = it.offsetWidth < 2 || getComputedStyle(it).opacity === "0";
  const shows = [!isUnseen && it, it.closest("label"), it.nextElementSibling, it.parentElement]
    .find((one) => one && getComputedStyle(one).outlineStyle !== "none" && parseFloat(getComputedStyle(one).outlineWidth) >= 2);
  const ground = (element) => {
    for (let one = element; one; one = one.parentElement) {
      const colour = getComputedStyle(one).backgroundColor;
      if (!/^rgba\(.*, 0\)$/.test(colour)) return colour;
    }
    return "rgb(255, 255, 255)";
  };
  const seen = shows ?? it.closest("label") ?? it;
  const box = seen.getBoundingClientRect();
  const [left, right] = [Math.max(box.left, 0), Math.min(box.right, innerWidth)];
  const [above, below] = [Math.max(box.top, 0), Math.min(box.bottom, innerHeight)];
  const points = [[0.5, 0.5], [0.1, 0.2], [0.9, 0.2], [0.1, 0.8], [0.9, 0.8]];
  const inView = right > left && below > above && points.some(([x, y]) => {
    const top = document.elementFromPoint(left + (right - left) * x, above + (below - above) * y);
    return top && (seen.contains(top) || it.contains(top) || top.contains(it));
  });
  const style = shows && getComputedStyle(shows);
  return {
    name: name.slice(0, 80),
    role: it.getAttribute("role") ?? it.tagName.toLowerCase(),
    tabindex: it.tabIndex,
    // A heading or a region that was only given the keyboard is no control.
    isControl: it.tabIndex >= 0,
    ring: style && { colour: style.outlineColor, ground: ground(shows.parentElement) },
    inView,
    width: box.width, height: box.height,
    inText: getComputedStyle(it).display === "inline",
  };
});

/** Contrast of two colours as computed styles give them. */
export function contrast(one, other) {
  const light = (colour) => {
    const [r, g, b] = colour.match(/[\d.]+/g).map((part) => {
      const share = Number(part) / 255;
      return share <= 0.04045 ? share / 12.92 : ((share + 0.055) / 1.055) ** 2.4;
    });
    return 0.2126 * r + 0.7152 * g + 0.0722 * b;
  };
  const [dark, bright] = [light(one), light(other)].sort((a, b) => a - b);
  return (bright + 0.05) / (dark + 0.05);
}

/** Holds a stop to what every stop must have. */
export function sound(at, where) {
  const told = `${where}: ${JSON.stringify(at)}`;
  assert.notEqual(at.role, "body", `nothing has the keyboard: ${told}`);
  assert.ok(at.name, `without a name: ${told}`);
  // The heading of the map and of a walk is heard only.
  assert.ok(at.inView || (!at.isControl && at.width <= 1), `not in view: ${told}`);
  if (!at.isControl) return;
  assert.ok(at.ring, `nothing shows where the keyboard is: ${told}`);
  assert.ok(contrast(at.ring.colour, at.ring.ground) >= 3, `hardly seen: ${told}`);
  assert.ok(at.inText || (at.width >= 24 && at.height >= 24), `too small: ${told}`);
}

/** A person at a keyboard without a mouse, whose every stop is held to the rules. */
export function keyboard(page) {
  const stops = [];
  const here = async () => {
    let at = await stop(page);
    // What takes the keyboard on has it a frame later.
    for (let times = 0; times < 50 && at.role === "body"; times += 1) {
      await page.waitForTimeout(100);
      at = await stop(page);
    }
    sound(at, `after ${stops.length} stops`);
    return at;
  };
  const press = async (...keys) => {
    for (const key of keys) await page.keyboard.press(key);
  };
  return {
    stops,
    here,
    press,
    /** Goes on by Tab (or back by Shift+Tab) to what has this name. */
    to: async (name, { back = false, most = 120 } = {}) => {
      const is = (at) => (name instanceof RegExp ? name.test(at.name) : at.name === name);
      const passed = [];
      for (let times = 0; times < most; times += 1) {
        await press(back ? "Shift+Tab" : "Tab");
        const at = await stop(page);
        passed.push(at.name || at.role);
        // Beyond the last stop lies the browser itself.
        if (at.role === "body") continue;
        sound(at, `on the way to ${name}`);
        stops.push(at);
        if (is(at)) return at;
      }
      throw new Error(`${name} is not reached by Tab: ${passed.join(" | ")}`);
    },
    /** What has the keyboard must be this. */
    is: async (name, where = "") => {
      const wanted = (at) => (name instanceof RegExp ? name.test(at.name) : at.name === name);
      let at = await stop(page);
      // It may be drawn yet.
      for (let times = 0; times < 50 && !wanted(at); times += 1) {
        await page.waitForTimeout(100);
        at = await stop(page);
      }
      assert.ok(wanted(at), `${where}: ${name} is wanted, ${JSON.stringify(at)} has the keyboard`);
      sound(at, where);
    },
  };
}

/** Every stop of the Tab key from the first to the last, each held to the rules; none comes twice. */
export async function allStops(page, where) {
  await page.evaluate(() => {
    document.activeElement?.blur();
    getSelection().removeAllRanges();
    document.querySelector(".skip").focus();
    window.leewardStops = new Set([document.activeElement]);
  });
  const found = [await stop(page)];
  for (;;) {
    await page.keyboard.press("Tab");
    const at = await stop(page);
    if (at.role === "body") break;
    const isNew = await page.evaluate(() => {
      const { size } = window.leewardStops;
      return window.leewardStops.add(document.activeElement).size > size;
    });
    if (!isNew) break;
    sound(at, where);
    found.push(at);
    assert.ok(found.length < 600, `${where} has no end`);
  }
  // What can be used, is shown and is no stop would be out of reach; of radio buttons one is.
  const missed = await page.evaluate(() => {
    const seen = window.leewardStops;
    const shown = (it) => it.checkVisibility({ visibilityProperty: true });
    return [...document.querySelectorAll("a[href], button, input, select, textarea, summary, [tabindex='0']")]
      .filter((it) => shown(it) && !it.disabled && it.tabIndex >= 0 && !seen.has(it))
      .filter((it) => it.type !== "radio" || ![...document.getElementsByName(it.name)].some((one) => seen.has(one)))
      .map((it) => it.outerHTML.slice(0, 120));
  });
  assert.deepEqual(missed, [], `${where}: out of reach`);
  return found;
}

/** What is wrong with names, headings and landmarks, as a screen reader is given them. */
export async function unheard(page) {
  const session = await page.context().newCDPSession(page);
  const { nodes } = await session.send("Accessibility.getFullAXTree");
  await session.detach();
  const all = nodes.filter((node) => !node.ignored);
  const role = (node) => node.role?.value ?? "";
  const name = (node) => node.name?.value?.trim() ?? "";
  const property = (node, key) => node.properties?.find((one) => one.name === key)?.value.value;
  const NAMED = ["button", "link", "textbox", "searchbox", "checkbox", "radio", "slider", "combobox", "spinbutton",
    "application", "grid", "listbox", "option", "region", "complementary", "navigation", "alertdialog", "image",
    "heading", "DisclosureTriangle", "columnheader", "group"];
  const faults = all.filter((node) => NAMED.includes(role(node)) && !name(node) && role(node) !== "group")
    .map((node) => `a ${role(node)} without a name`);
  const count = (wanted) => all.filter((node) => role(node) === wanted).length;
  if (count("main") !== 1) faults.push(`${count("main")} mains`);
  const headings = all.filter((node) => role(node) === "heading")
    .map((node) => ({ level: property(node, "level"), words: name(node) }));
  const first = headings.filter(({ level }) => level === 1);
  if (first.length !== 1) faults.push(`${first.length} headings of level 1: ${first.map(({ words }) => words)}`);
  headings.reduce((before, { level, words }) => {
    if (level > before + 1) faults.push(`“${words}” jumps from level ${before} to ${level}`);
    return level;
  }, 0);
  return { faults, headings, names: all.filter((node) => NAMED.includes(role(node))).length };
}

/** Collects what live regions say from now on, as a screen reader would read it. */
export async function listen(page) {
  await page.evaluate(() => {
    window.leewardHeard = [];
    const LIVE = "[role=status], [role=alert], [aria-live=polite], [aria-live=assertive]";
    const say = (region) => {
      const words = region.textContent.replace(/\s+/g, " ").trim();
      if (words && window.leewardHeard.at(-1) !== words) window.leewardHeard.push(words);
    };
    new MutationObserver((changes) => {
      const regions = new Set();
      for (const { target, addedNodes } of changes) {
        const around = (target.nodeType === 1 ? target : target.parentElement)?.closest(LIVE);
        if (around) regions.add(around);
        // A region that comes with its words is read only where it is an alert.
        for (const one of addedNodes) {
          if (one.nodeType === 1) [one, ...one.querySelectorAll("*")].filter((it) => it.matches("[role=alert]")).forEach((it) => regions.add(it));
        }
      }
      regions.forEach(say);
    }).observe(document.body, { childList: true, characterData: true, subtree: true });
  });
  return {
    /** What was said since this was asked last. */
    said: () => page.evaluate(() => window.leewardHeard.splice(0)),
    /** Waits until something like this is said. */
    until: (words) => page.waitForFunction(
      (pattern) => window.leewardHeard.some((one) => new RegExp(pattern).test(one)), words.source, { timeout: 30_000 }),
  };
}

/** What sticks out sideways, and words that are cut off. */
export const cut = (page) => page.evaluate(() => {
  const faults = [];
  const wide = document.documentElement.scrollWidth - innerWidth;
  if (wide > 0) faults.push(`the page is ${wide} px too wide`);
  // Lines of long lists end in dots, and so do two on a walk, whose keys must keep their place; the
  // card of the tree has them whole.
  const LINES = ".twin-line, .rank-line, .strip, .walk-last, .walk-about, .hidden-words, .skip";
  for (const it of document.querySelectorAll("main *, .places *, .notices *")) {
    if (it.closest(LINES) || it.closest("svg, canvas, select, option") || !it.checkVisibility()) continue;
    const style = getComputedStyle(it);
    const own = [...it.childNodes].some((one) => one.nodeType === 3 && one.data.trim());
    const cuts = (overflow) => overflow === "hidden" || overflow === "clip";
    if (own || style.webkitLineClamp !== "none") {
      const sideways = cuts(style.overflowX) && it.scrollWidth > it.clientWidth + 1;
      const below = cuts(style.overflowY) && it.scrollHeight > it.clientHeight + 2;
      if (sideways || below) faults.push(`cut: .${it.className} “${it.textContent.slice(0, 60)}”`);
    }
    const box = it.getBoundingClientRect();
    const scrolls = it.closest(".scroll, .map-body, .bring-source textarea, pre, textarea");
    if (own && !scrolls && box.width && (box.right > innerWidth + 1 || box.left < -1)) {
      faults.push(`beyond the edge: .${it.className} “${it.textContent.slice(0, 60)}”`);
    }
  }
  return [...new Set(faults)];
});
