// Gives back the verdicts' side of the worksheet: per decision the candidates, best first, each with what
// decided it.
//
// `makeResults(view, jump, margins)` is { node, leading, lead(selected), parts(selected, waiting) }; `view` is that of
// worksheet_texts.js, `jump(state, input)` goes to a field, `margins` is that of worksheet_margins.js. `lead` draws the first of each decision, `parts` gives
// back functions that draw the rest where it has changed: one per candidate and per table of values, so that none holds up a
// key, and after them one that puts them into the page. What a reader has unfolded stays unfolded.

import { basisText, element, verdictMark, verdictWords } from "./form.js";
import { confirmSentence } from "./worksheet_provisional.js";
import { headline, isSettled, LONG_NOTE, partnerWords, reasonVerdict, UNSETTLED } from "./worksheet_reasons.js";
import { standing } from "./worksheet_standing.js";
import {
  askedFor,
  askedTitle,
  candidateAddress,
  mapLink,
  ruleAddress,
  stateTitle,
} from "./worksheet_texts.js";
import { byName, valueLine, valuesView, valueTable } from "./worksheet_values.js";

const OPEN_SHOWN = 3; // further open candidates are folded: a blank sheet has dozens
const WAITS_SHOWN = 3; // the same for the answers that a verdict waits for
const NO_CANDIDATE =
  "No candidate is left by its own rules. The others are judged as if each of these could still be chosen.";

export function makeResults(texts, jump, margins) {
  const view = { ...texts, jump, margins, unfolded: new Set(), waiting: new Map(), together: new Map(), drawn: new Map() };
  const node = element("div", { class: "ws-verdicts" });
  const leading = element("section", { class: "ws-leading", "aria-label": "The first of each decision" });
  const remember = (event) => {
    const key = event.target.dataset.fold;
    if (key && event.target.open) view.unfolded.add(key);
    else if (key) view.unfolded.delete(key);
  };
  node.addEventListener("toggle", remember, true); // a toggle does not rise, so it is caught on the way down
  const lead = (selected) => leading.replaceChildren(leadingView(view, selected));
  const drawn = new Map(); // what stands in the page, by part: { told, shown }; view.drawn is that by candidate
  const parts = (selected, waiting) => {
    view.waiting = waiting;
    view.together = new Map(tellsApart(selected).map((one) => [`${one.decision} ${one.candidate}`, one]));
    const { decisions, values } = selected;
    // `of` are the things that a part is made of: `make(one)` tells and draws one of them as { words, shown }, `join` all.
    const draw = (name, of, make, join, more = "") => {
      const made = [];
      return [...of.map((one) => () => void made.push(make(one))), () => put(name, made, join, more)];
    };
    const put = (name, made, join, more) => {
      const known = drawn.get(name);
      const words = [more, ...made.map((one) => one.words)].join("\n");
      if (known?.told === words) return; // most answers leave most decisions as they were
      const focused = known?.shown.contains(document.activeElement) && document.activeElement.dataset.key;
      const shown = join(made) ?? element("div", { hidden: true });
      if (known) known.shown.replaceWith(shown);
      else node.append(shown);
      drawn.set(name, { told: words, shown });
      if (focused) shown.querySelector(`[data-key="${CSS.escape(focused)}"]`)?.focus({ preventScroll: true });
    };
    return [
      ...decisions.flatMap((decision) =>
        draw(
          decision.decision,
          decision.candidates,
          (one) => candidateView(view, decision.decision, toldOf(view, decision.decision, one, values)),
          (made) => decisionView(view, decision, made),
          String(decision.in_play),
        ),
      ),
      ...draw("values", byName(values), (some) => valueTable(view, some), (made) => valuesView(made)),
    ];
  };
  return { node, leading, lead, parts };
}

// A rule that decides, with its sentence, states and basis; `result` is what it decides about, `joint` the word
// before the candidates that it was read with.
export function reasonView(view, reason, result, longest, joint = "together with", states = [reason.state]) {
  const rule = view.rules.get(reason.rule);
  const partner = partnerWords(view, reason).replace("together with", joint);
  return element(
    "div",
    {
      class: "ws-reason",
      "data-rule": reason.rule,
      "data-reason-verdict": reason.verdict,
      "data-state": reason.state,
      "data-place": (result.reasons ?? []).indexOf(reason),
      "data-settled": isSettled(reason),
    },
    element(
      "p",
      {},
      !isSettled(reason) && element("span", { class: "ws-muted", text: UNSETTLED }),
      rule.because,
      partner && element("span", { class: "ws-muted", text: partner }),
    ),
    element(
      "p",
      { class: "ws-origin" },
      element("span", { class: "ws-state", text: states.map((state) => stateTitle(view, state)).join(", ") }),
      " · ",
      element("a", { href: ruleAddress(view, rule), text: reason.rule }),
      " · ",
      mapLink(view, reason.table),
      ` · ${basisText(rule.basis, view.sources, longest)}`,
      reason.others > 0 && ` · and ${reason.others} more of this table`,
    ),
  );
}

// The mark of a rule's verdict, in no verdict's colour while its rule may still not apply.
export function reasonMark(reason) {
  return verdictMark(reason.verdict, reasonVerdict(reason), isSettled(reason) ? reason.verdict : "maybe");
}

// private

// What candidates come to in a selection, without what is only as open as the best selection of all: that stands above,
// once for all candidates.
function tellsApart({ together, selections: [best] }) {
  return together.filter((one) => one.verdict !== "open" || one.best !== best?.best || one.worst !== best?.worst);
}

// Everything that is shown of a candidate, to see whether it has changed.
function toldOf(view, decision, result, values) {
  const together = view.together.get(`${decision} ${result.candidate}`);
  const own = values.filter((value) => value.candidate === result.candidate);
  return { result, together, asked: askedInOrder(view, result), values: own, liquids: [...view.liquids] };
}

// What a candidate waits for, those first that most verdicts wait for.
function askedInOrder(view, result) {
  const wanted = ([state, input]) => view.waiting.get(`${state} ${input}`) ?? 0;
  return askedFor(view, result.open_inputs).sort((one, other) => wanted(other) - wanted(one));
}

function sectionId(decision) {
  return `ws-decision-${decision}`;
}

function leadingView(view, selected) {
  const rows = selected.decisions.map((decision) => {
    const { title, first, verdict, more, better } = standing(view, decision);
    return element(
      "li",
      {},
      element("a", {
        href: `#${sectionId(decision.decision)}`,
        "data-key": `to ${decision.decision}`,
        onclick: toDecision,
        text: title,
      }),
      element("span", { class: "ws-first", text: first }),
      verdictMark(decision.candidates[0].verdict, verdict),
      element("span", { class: "ws-muted", text: more }),
      better && element("span", { class: "ws-better", text: better }),
    );
  });
  // Candidates that lead here need not go together: that is what the selection above answers.
  return element("div", {}, element("p", { class: "ws-muted", text: "Each decision by itself" }),
    element("ul", {}, rows));
}

// The address holds the application, so a link inside the worksheet must not replace it.
function toDecision(event) {
  event.preventDefault();
  const target = document.getElementById(event.currentTarget.getAttribute("href").slice(1));
  target.scrollIntoView();
  target.focus({ preventScroll: true });
}

function decisionView(view, decision, made) {
  const text = view.decisions.get(decision.decision);
  return element(
    "section",
    {
      class: "ws-decision",
      id: sectionId(decision.decision),
      tabindex: "-1",
      "aria-label": text.title,
      "data-decision": decision.decision,
    },
    element("h3", { text: text.title }),
    element("p", { class: "ws-muted", text: text.question }),
    !decision.in_play && element("p", { class: "ws-notice", text: NO_CANDIDATE }),
    element("ol", { class: "ws-candidates" }, candidateItems(view, decision, made)),
  );
}

// In the engine's order; the unsuitable ones, and the open ones beyond the first few, stand in folds.
function candidateItems(view, decision, made) {
  const items = [];
  let fold = null;
  let open = 0;
  for (const [place, result] of decision.candidates.entries()) {
    if (result.verdict === "open") open += 1;
    const item = made[place].shown;
    const folded = result.verdict === "unsuitable" || (result.verdict === "open" && open > OPEN_SHOWN);
    if (!folded) {
      items.push(item);
      continue;
    }
    if (fold?.verdict !== result.verdict) {
      fold = { verdict: result.verdict, list: element("ol", { class: "ws-candidates" }) };
      items.push(foldView(view, decision, fold));
    }
    fold.list.append(item);
  }
  return items;
}

function foldView(view, decision, { verdict, list }) {
  const count = decision.candidates.filter((one) => one.verdict === verdict).length;
  const words =
    verdict === "open" ? `${count - OPEN_SHOWN} more open` : `${count} unsuitable, with the reasons`;
  const key = `${decision.decision} ${verdict}`;
  return element("li", { class: "ws-fold" }, foldable(view, key, verdictMark(verdict, words), list));
}

function foldable(view, key, summary, ...content) {
  return element(
    "details",
    { "data-fold": key, open: view.unfolded.has(key) },
    element("summary", { "data-key": key }, summary),
    content,
  );
}

// As it was drawn before, unless something about it has changed: { words, shown }.
function candidateView(view, decision, told) {
  const key = `${decision} ${told.result.candidate}`;
  const words = JSON.stringify(told);
  const known = view.drawn.get(key);
  if (known?.words !== words) view.drawn.set(key, { words, shown: candidateItem(view, decision, key, told) });
  return view.drawn.get(key);
}

function candidateItem(view, decision, key, { result, together, asked, values }) {
  const deciding = headline(result);
  return element(
    "li",
    {
      class: `ws-candidate ws-is-${result.verdict}`,
      "data-decision": decision,
      "data-candidate": result.candidate,
      "data-verdict": result.verdict,
      "data-best": result.best,
      "data-worst": result.worst,
    },
    element(
      "div",
      { class: "ws-head" },
      element("a", {
        class: "ws-title",
        href: candidateAddress(view, decision, result.candidate),
        "data-key": key,
        text: view.titles.get(key),
      }),
      verdictMark(result.verdict, verdictWords(result)),
    ),
    deciding
      ? reasonView(view, deciding, result, LONG_NOTE)
      : element("p", { class: "ws-muted", text: "No rule of this edition applies." }),
    result.confirm.length > 0 && element("p", { class: "ws-origin ws-confirm", text: confirmSentence(view, result) }),
    togetherView(view, together),
    openInputs(view, asked, key),
    result.best === result.worst && view.margins.fold([key], `margins ${key}`, view.unfolded.has(`margins ${key}`)),
    moreView(view, key, result, values),
  );
}

// Folded: a long note to the deciding rule, the other rules, and what was calculated for this candidate.
function moreView(view, key, result, values) {
  const deciding = headline(result);
  const others = result.reasons.filter((reason) => reason !== deciding);
  const note = deciding ? longNote(view.rules.get(deciding.rule)) : "";
  const words = [
    note && "what this rests on",
    others.length > 0 && `${others.length} more ${others.length === 1 ? "rule" : "rules"}`,
    values.length > 0 && `${values.length} calculated ${values.length === 1 ? "value" : "values"}`,
  ].filter(Boolean);
  if (!words.length) return null;
  const reasons = others.map((reason) =>
    element(
      "li",
      {},
      reasonMark(reason),
      reasonView(view, reason, result, Infinity),
    ),
  );
  const lines = values.map((value) => element("li", { text: valueLine(view, value) }));
  return foldable(
    view,
    `${key} more`,
    words.join(", "),
    note && element("p", { class: "ws-origin", text: note }),
    element("ul", { class: "ws-reasons" }, reasons),
    element("ul", { class: "ws-values" }, lines),
  );
}

// What a candidate comes to where no selection can have it at its own verdict.
function togetherView(view, one) {
  if (one === undefined) return null;
  const words = `In any selection ${verdictWords(one)}: ${view.rules.get(one.limits[0].rule).because}`;
  return element("p", { class: "ws-muted", "data-together": one.verdict, text: words });
}

function longNote(rule) {
  const note = rule.basis.note ?? "";
  return note.length > LONG_NOTE ? note : "";
}

function openInputs(view, asked, key) {
  if (!asked.length) return null;
  const buttons = asked.map(([state, input]) =>
    element("button", {
      type: "button",
      class: "ws-small",
      "data-open-input": input,
      "data-state": state,
      "data-key": `${key} ${state} ${input}`,
      onclick: () => view.jump(state, input),
      text: askedTitle(view, state, input),
    }),
  );
  const more = buttons.splice(WAITS_SHOWN);
  return element(
    "div",
    { class: "ws-waits" },
    "Waits for: ",
    buttons,
    more.length > 0 && foldable(view, `${key} waits`, `and ${more.length} more`, more),
  );
}
