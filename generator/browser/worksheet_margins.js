// Gives back how far each number is from the next limit, worked out only when a reader unfolds it: a keystroke never
// waits for it.
//
// `makeMargins(view, prepared)` is { fold(keys, name, open), begin(application, judged, selected), fill(node), chosen() }: `fold` is a
// folded list of the margins of candidates, "decision candidate"; `begin` says that the answers are others now; `fill`
// draws what is unfolded within a node; `chosen` are the nearest margins of the leading selection, nearest first.

import { element } from "./form.js";
import { margins, nearestMargin, shareOf } from "./engine/margins.js";
import { situationOf } from "./engine/situation.js";
import { marginOf, marginWords } from "./margin_words.js";
import { ruleAddress } from "./worksheet_texts.js";

const NONE = "No limit of its own rules is reached by moving one number.";

export function makeMargins(view, prepared) {
  let now = null; // the application and its verdicts
  let found = null; // its margins by candidate, once they are asked for
  const begin = (application, judged, selected) => {
    now = { application, judged, selected };
    found = null;
  };
  const of = (key) => {
    if (found === null) {
      found = new Map();
      for (const one of margins(situationOf(prepared, now.application, now.judged), now.selected)) {
        const candidate = `${one.decision} ${one.candidate}`;
        found.set(candidate, [...(found.get(candidate) ?? []), one]);
      }
    }
    return found.get(key) ?? [];
  };
  const nearestOf = (keys) => keys.map((key) => nearestMargin(of(key))).filter(Boolean)
    .sort((one, other) => shareOf(one) - shareOf(other));
  const draw = (fold) => {
    const keys = fold.dataset.margins.split(",");
    const lines = keys.length === 1 ? of(keys[0]) : nearestOf(keys);
    const items = lines.map((one) => marginItem(view, one, keys.length > 1));
    fold.querySelector("ul").replaceChildren(...(items.length ? items : [element("li", { text: NONE })]));
  };
  const fill = (node) => node.querySelectorAll("details[data-margins][open]").forEach(draw);
  const fold = (keys, name, open) =>
    element(
      "details",
      { "data-margins": keys.join(","), "data-fold": name, open, ontoggle: (event) => {
        if (event.currentTarget.open) draw(event.currentTarget);
      } },
      element("summary", { "data-key": name, text: "How far to the next limits" }),
      element("ul", { class: "ws-margins" }),
    );
  const chosen = () => nearestOf((now.selected.selections[0]?.chosen ?? []).map((one) => `${one.decision} ${one.candidate}`));
  return { fold, begin, fill, chosen };
}

// private

function marginItem(view, margin, isNamed) {
  return element(
    "li",
    { "data-margin": margin.column, "data-limit": margin.limit },
    isNamed && marginOf(view, margin),
    `${marginWords(view, margin)} `,
    element("a", { href: ruleAddress(view, view.rules.get(margin.rule)), text: margin.rule }),
  );
}
