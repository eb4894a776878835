// Gives back a list of work that waits until the page is idle, so that a keystroke is answered first.
//
// `makeLater()` is { begin(parts), finish() }: `begin` takes functions in place of those that still wait and calls
// them one after the other, a few at a time; `finish` calls at once all that still wait. What a function gives back
// are further ones, which come next.

const LATEST = 150; // milliseconds after which work is done even if the page is never idle
const SLICE = 3; // milliseconds that must be left of an idle period to begin another part
const STEP = 20; // milliseconds between parts in browsers that do not tell when they are idle

export function makeLater() {
  let parts = [];
  let cancel = () => {};
  const next = () => parts.unshift(...(parts.shift()?.() ?? []));
  const run = (left) => {
    do next();
    while (parts.length > 0 && left() > SLICE);
    if (parts.length > 0) cancel = whenIdle(run);
  };
  const begin = (some) => {
    cancel();
    parts = [...some];
    cancel = whenIdle(run);
  };
  const finish = () => {
    cancel();
    while (parts.length > 0) next();
  };
  return { begin, finish };
}

// private

// Calls `work` when the page is idle, with a function that says for how many milliseconds it stays so; gives back
// what calls it off.
function whenIdle(work) {
  if (window.requestIdleCallback === undefined) {
    const timer = setTimeout(() => work(() => 0), STEP);
    return () => clearTimeout(timer);
  }
  const handle = requestIdleCallback((period) => work(() => period.timeRemaining()), { timeout: LATEST });
  return () => cancelIdleCallback(handle);
}
