// Gives back the top of the verdicts' side: what to buy, what limits it, and where to pin a candidate.
//
// `makeSelection(view, margins, pin)` is { node, show(selected, pinned, assumed) }; `view` is that of worksheet_texts.js, `margins` of worksheet_margins.js,
// `pinned` the [decision, candidate] pairs of the application, `pin(decision, candidate)` keeps a candidate;
// an empty one lets go.

import { element, verdictMark, verdictWords } from "./form.js";
import { confirmSentence, PROVISIONAL } from "./worksheet_provisional.js";
import { isSettled, LONG_NOTE } from "./worksheet_reasons.js";
import { reasonMark, reasonView } from "./worksheet_results.js";
import { askedFor, askedTitle } from "./worksheet_texts.js";

const LIMITS_SHOWN = 2; // further limits are folded
const MISSING_SHOWN = 4; // the same for answers that are missing
const LEFT = {
  unsuitable: "No selection is left.",
  open: "None is left without a word from the supplier or a specialist.",
};
const WHY = "These rules together leave none; without any one of their tables one would be left";
const WHY_ALONE = "This rule alone leaves none; without its table one would be left.";

export function makeSelection(texts, margins, pin) {
  const view = { ...texts, unfolded: new Set() };
  const node = element("section", { class: "ws-buy", "aria-label": "What to buy" });
  const remember = ({ target }) => {
    if (target.open) view.unfolded.add(target.dataset.fold);
    else view.unfolded.delete(target.dataset.fold);
  };
  node.addEventListener("toggle", remember, true); // a toggle does not rise, so it is caught on the way down
  const show = (selected, pinned, assumed) => {
    const focused = node.contains(document.activeElement) ? document.activeElement.dataset.key : undefined;
    const [best, ...others] = selected.selections;
    node.dataset.verdict = best?.verdict ?? "none";
    node.dataset.left = selected.conflict?.left ?? "";
    const parts = [
      element("h3", { text: "What to buy" }),
      selected.conflict && conflictView(view, selected.conflict),
      best && bestView(view, best),
      assumed && element("p", { class: "ws-muted ws-assumed", text: assumed }),
      chosenTable(view, selected.decisions, best, new Map(pinned), pin),
      best && limitsView(view, best),
      best && margins.fold(best.chosen.map((one) => `${one.decision} ${one.candidate}`), "margins",
        view.unfolded.has("margins")),
      others.length > 0 && othersView(view, best, others),
    ];
    node.replaceChildren(...parts.filter(Boolean));
    if (focused) node.querySelector(`[data-key="${CSS.escape(focused)}"]`)?.focus({ preventScroll: true });
  };
  return { node, show };
}

// private

function conflictView(view, conflict) {
  const reasons = byRule(conflict.reasons).map(({ reason, states }) =>
    element("li", { "data-conflict": reason.table }, ...reasonLine(view, reason, { best: "", worst: "" }, states)),
  );
  const list = element("ul", { class: "ws-reasons" }, reasons);
  return element(
    "div",
    { class: "ws-notice", role: "note", "data-left": conflict.left },
    element("p", { text: LEFT[conflict.left] }),
    ...(reasons.length === 1 ? [element("p", { text: WHY_ALONE }), list]
      : [foldable(view, "conflict", `${WHY} (${reasons.length})`, list)]),
  );
}

function bestView(view, best) {
  return element(
    "div",
    { class: "ws-head" },
    verdictMark(best.verdict, verdictWords(best)),
    best.confirm.length > 0 && element("span", { class: "ws-muted", text: ` ${confirmSentence(view, best)}` }),
    missingView(view, askedFor(view, best.open_inputs).map(([state, input]) => askedTitle(view, state, input))),
  );
}

function missingView(view, missing) {
  const first = missing.slice(0, MISSING_SHOWN).join(", ");
  const more = missing.slice(MISSING_SHOWN).join(", ");
  if (!more) return first && element("span", { class: "ws-muted", text: ` Missing: ${first}.` });
  return foldable(view, "missing", `Missing: ${first} and ${missing.length - MISSING_SHOWN} more`,
    element("p", { class: "ws-muted", text: `${more}.` }));
}

// A line per decision: the candidate of the best selection, which may be pinned or another in its place.
function chosenTable(view, decisions, best, pinned, pin) {
  return element(
    "ul",
    { class: "ws-chosen" },
    decisions.map(({ decision, candidates }, place) => {
      const chosen = best?.chosen[place];
      const kept = pinned.get(decision) ?? "";
      const title = (candidate) => view.titles.get(`${decision} ${candidate}`);
      const free = kept ? "not pinned" : chosen ? amongOthers(title(chosen.candidate), chosen, candidates) : "no candidate";
      const option = (value, text) => element("option", { value, text, selected: value === kept });
      const control = element(
        "select",
        {
          id: `ws-pin-${decision}`,
          "data-key": `pin ${decision}`,
          onchange: (event) => pin(decision, event.target.value),
        },
        option("", free),
        candidates.map(({ candidate }) => option(candidate, `pinned: ${title(candidate)}`)),
      );
      return element(
        "li",
        { "data-chosen": decision, "data-of": chosen?.candidate ?? "", "data-pinned": kept },
        element("label", { for: control.id, text: view.decisions.get(decision).title }),
        control,
        chosen && verdictMark(chosen.verdict, chosen.verdict + (chosen.confirm.length ? PROVISIONAL : "")),
      );
    }),
  );
}

// Where nothing tells some candidates apart yet, the first of them is no advice.
function amongOthers(title, { candidate, verdict }, candidates) {
  if (verdict !== "open") return title;
  const own = candidates.find((one) => one.candidate === candidate);
  const others = candidates.filter((one) => one.best === own.best && one.worst === own.worst).length - 1;
  return others > 0 ? `not settled: ${title} or ${others} ${others === 1 ? "other" : "others"}` : title;
}

function limitsView(view, best) {
  if (!best.limits.length) return null;
  const lines = byRule(best.limits).map(({ reason, states }) =>
    element("li", { "data-limit": reason.rule }, ...reasonLine(view, reason, best, states)),
  );
  const more = lines.splice(LIMITS_SHOWN);
  return element(
    "div",
    { class: "ws-limits" },
    element("p", { class: "ws-muted", text: "Limited by" }),
    element("ul", { class: "ws-reasons" }, lines),
    more.length > 0 &&
      foldable(view, "limits", `and ${more.length} more`, element("ul", { class: "ws-reasons" }, more)),
  );
}

function reasonLine(view, reason, result, states) {
  return [reasonMark(reason), reasonView(view, reason, result, LONG_NOTE, "for", states)];
}

// Each rule with its partner once, with every state in which it applies.
function byRule(reasons) {
  const found = new Map();
  for (const reason of reasons) {
    const key = JSON.stringify([reason.rule, reason.partner, reason.components, isSettled(reason)]);
    if (!found.has(key)) found.set(key, { reason, states: new Set() });
    found.get(key).states.add(reason.state);
  }
  return [...found.values()].map(({ reason, states }) => ({ reason, states: [...states] }));
}

// The other leading selections, told by what differs from the best.
function othersView(view, best, others) {
  const lines = others.map((other) => {
    const different = other.chosen.filter((one, place) => one.candidate !== best.chosen[place].candidate);
    const words = different.map(({ decision, candidate }) => {
      const title = view.titles.get(`${decision} ${candidate}`);
      return `${view.decisions.get(decision).title} ${title}`;
    });
    return element("li", {}, verdictMark(other.verdict, verdictWords(other)), ` with ${words.join(", ")}`);
  });
  const words = `${others.length} other ${others.length === 1 ? "selection" : "selections"}`;
  return foldable(view, "others", words, element("ol", { class: "ws-others" }, lines));
}

function foldable(view, key, summary, ...content) {
  return element(
    "details",
    { "data-fold": key, open: view.unfolded.has(key) },
    element("summary", { "data-key": key, text: summary }),
    content,
  );
}
