// Gives back a list of work that waits until the page is idle, so that a keystroke is answered first.
//
// `makeLater()` is { begin(parts), finish(), whenDone(work) }: `begin` takes functions in place of those that still wait
// and calls them one after the other, a few at a time; `finish` calls at once all that still wait; `whenDone` calls
// `work` once none waits, unless others begin before. What a function gives back are further ones, which come next.

const LATEST = 150; // milliseconds after which work is done even if the page is never idle
const SLICE = 3; // milliseconds that must be left of an idle period to begin another part
const STEP = 20; // milliseconds between parts in browsers that do not tell when they are idle

export function makeLater() {
  let parts = [];
  let cancel = () => {};
  let after = null;
  const next = () => parts.unshift(...(parts.shift()?.() ?? []));
  const run = (left) => {
    do next();
    while (parts.length > 0 && left() > SLICE);
    if (parts.length > 0) cancel = whenIdle(run);
    else ended();
  };
  const ended = () => {
    const work = after;
    after = null;
    work?.();
  };
  const begin = (some) => {
    cancel();
    after = null;
    parts = [...some];
    cancel = whenIdle(run);
  };
  const finish = () => {
    cancel();
    after = null;
    while (parts.length > 0) next();
  };
  const whenDone = (work) => {
    after = work;
    if (parts.length === 0) ended();
  };
  return { begin, finish, whenDone };
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
