// What a page needs to time its frames, and hands that move the map, an event a frame. Whatever is
// sent to the page stands by itself.

/** What the page needs to time itself: the end of a frame is when the task after it begins. */
export async function instruments(page) {
  await page.addInitScript(() => {
    window.afterFrame = (then) => requestAnimationFrame(() => {
      const { port1, port2 } = new MessageChannel();
      port1.onmessage = then;
      port2.postMessage(0);
    });
    window.framesOf = async (count, act) => {
      const [work, apart] = [[], []];
      let before;
      for (let nth = 0; nth < count; nth += 1) {
        await new Promise((done) => requestAnimationFrame(() => {
          const begun = performance.now();
          if (before) apart.push(begun - before);
          before = begun;
          const { port1, port2 } = new MessageChannel();
          port1.onmessage = () => { work.push(performance.now() - begun); done(); };
          port2.postMessage(0);
        }));
        act(nth);
      }
      return { work: work.slice(2), apart: apart.slice(2) };
    };
  });
}

/** Milliseconds from a moment kept under a name to the end of the frame with the first marks. */
export function painted(page, since) {
  return page.evaluate((since) => new Promise((done) => {
    const look = () => {
      const canvas = document.querySelector(".stage-marks");
      const shown = canvas?.hasAttribute("width");
      // The painter sizes the canvas when it paints the first time.
      if (!shown) requestAnimationFrame(look);
      else afterFrame(() => done(performance.now() - window[since]));
    };
    look();
  }), since);
}

/** Drags the map in circles by one pointer, an event a frame. */
export async function drag({ x, y }) {
  const stage = document.querySelector(".stage");
  const { left, top } = stage.getBoundingClientRect();
  stage.setPointerCapture = () => {};
  const send = (type, dx, dy) => stage.dispatchEvent(new PointerEvent(type, {
    pointerId: 7, pointerType: "touch", button: 0, bubbles: true, cancelable: true,
    clientX: left + x + dx, clientY: top + y + dy,
  }));
  send("pointerdown", 0, 0);
  const frames = await window.framesOf(240, (nth) => {
    const [turn, reach] = [nth / 20, Math.min(nth, 120)];
    send("pointermove", reach * Math.sin(turn), reach * Math.cos(turn * 0.8));
  });
  send("pointercancel", 0, 0);
  return frames;
}

/** Zooms in step by step by the wheel. */
export function zoom({ x, y }) {
  const stage = document.querySelector(".stage");
  const { left, top } = stage.getBoundingClientRect();
  return window.framesOf(120, () => stage.dispatchEvent(new WheelEvent("wheel", {
    deltaY: -14, deltaMode: 0, ctrlKey: true, bubbles: true, cancelable: true,
    clientX: left + x, clientY: top + y,
  })));
}

/** Points with the mouse at places all over the map. */
export function pointAt({ x, y }) {
  const stage = document.querySelector(".stage");
  const { left, top } = stage.getBoundingClientRect();
  const took = [];
  for (let nth = 0; nth < 1000; nth += 1) {
    const at = { clientX: left + ((nth * 37) % (2 * x)), clientY: top + ((nth * 53) % (2 * y)) };
    const begun = performance.now();
    stage.dispatchEvent(new PointerEvent("pointermove", { pointerType: "mouse", bubbles: true, ...at }));
    took.push(performance.now() - begun);
  }
  return took;
}

/** The nearest value below which a share of the values lies. */
export function share(values, of) {
  const sorted = [...values].sort((a, b) => a - b);
  return sorted[Math.max(0, Math.ceil(sorted.length * of) - 1)];
}
