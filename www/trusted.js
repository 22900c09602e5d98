// The last lock, where the browser knows trusted types: a string becomes the address of a worker
// only if it is one of ours, and markup only if nothing in it could run, load or be styled.
const HARMFUL = /<\s*(script|style|link|meta|base|iframe|object|embed|form)\b|[\s/"'](on\w+|style|src\w*)\s*=|javascript:/i;

export function trust(scripts) {
  window.trustedTypes?.createPolicy("default", {
    createScriptURL: (address) => (scripts.includes(address) ? address : null),
    createHTML: (markup) => (HARMFUL.test(markup) ? null : markup),
  });
}
