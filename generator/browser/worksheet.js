// Gives back the worksheet at its place in the page: answers on one side, verdicts on the other, both in the
// address.
//
// Nothing is stored or sent. The application in the address is the whole state; opening it gives the same
// page again.

import { applicationFile, applicationOf, fragmentOf, identifier, RULED_OUT } from "./address.js";
import { readApplication } from "./engine/application.js";
import { conceded } from "./engine/conceded.js";
import { CONCESSIONS } from "./engine/concessions.js";
import { newMemory } from "./engine/memory.js";
import { MIXED_WITH } from "./engine/model.js";
import { nextQuestion } from "./engine/next_question.js";
import { PINNED } from "./engine/pins.js";
import { prepare } from "./engine/prepared.js";
import { readAnswer } from "./engine/reading.js";
import { choose, judge, select } from "./engine/select.js";
import { answerText, element, readDocument } from "./form.js";
import { makeAdvice } from "./worksheet_advice.js";
import {
  answeredPerState,
  blank,
  copyOf,
  exampleApplication,
  today,
  withConcessions,
} from "./worksheet_application.js";
import { makeConcessions } from "./worksheet_concessions.js";
import { SAME } from "./worksheet_fields.js";
import { cautionsLink, frame } from "./worksheet_frame.js";
import { makeLater } from "./worksheet_later.js";
import { makeLetters } from "./worksheet_letters.js";
import { makeMargins } from "./worksheet_margins.js";
import { mixtureWords, nameLiquids } from "./worksheet_mixture.js";
import { makeNearest } from "./worksheet_nearest.js";
import { makeNext } from "./worksheet_next.js";
import { makeOffer } from "./worksheet_offer.js";
import { pointItems, waitingFor } from "./worksheet_points.js";
import { beforePrint, printedView } from "./worksheet_print.js";
import { recordView } from "./worksheet_record.js";
import { makeResults } from "./worksheet_results.js";
import { makeSelection } from "./worksheet_selection.js";
import { summaryOf } from "./worksheet_standing.js";
import { makeStart } from "./worksheet_start.js";
import { makeStarter } from "./worksheet_starter.js";
import { makeStates } from "./worksheet_states.js";
import { aimMaps, assumedWords, byId } from "./worksheet_texts.js";
import { makeTools, offerFile } from "./worksheet_tools.js";

const PAUSE = 150; // milliseconds without typing before the address is changed and the verdicts are spoken
const REMEMBERED = 1000; // answers: after so many, what was worked out from them is forgotten
const COPIED = "The link is copied. It holds every answer; nothing is stored anywhere else.";
const NONE_OCCUR = "The states that were not described are said not to occur.";
const CONCEDED = "The concession stands beside the verdict, which it does not change. It is part of the link and the file.";
const CLEARED = "All answers are cleared. Undo brings them back.";

// Fills `place`, a <div data-pack="..." data-texts="..." data-root="...">: the addresses of the two documents
// and of the site. Says so in the page if the rules cannot be read.
export async function openWorksheet(place) {
  const address = (name) => new URL(place.dataset[name], document.baseURI).href;
  const reading = Promise.all([readDocument(address("pack")), readDocument(address("texts"))]);
  const documents = await reading.catch((reason) => {
    const words = `${reason.message} The pages of the guide hold the same rules as tables.`;
    place.append(element("p", { class: "ws-notice", role: "alert", text: words }));
  });
  if (documents) makeWorksheet(place, ...documents, byId(...documents, address("root")));
}

// private

function makeWorksheet(place, pack, texts, view) {
  const stateIds = pack.states.map((state) => state.id);
  const prepared = prepare(pack);
  const past = []; // applications before each clear, example and opened link, until the next edit
  let application = applicationOf(location.hash, stateIds) ?? blank(stateIds);
  let memory = newMemory(); // what the engine need not work out again
  const known = new Map(); // what was read before: one key changes one of a hundred answers
  let timer = 0;
  const idle = makeLater();
  let last = null; // what the last evaluation gave, for the paper

  const states = makeStates(pack, texts, changed, (some) => act.ruleOutAll(some));
  const starter = makeStarter(pack, texts, (filled, one) => replace(filled, `${one.title}: ${one.story}`));
  const start = makeStart(pack, texts, () => showStart());
  const nearest = makeNearest(pack, texts, view);
  const margins = makeMargins(view, prepared);
  const next = makeNext(view, pack, states.focus);
  const letters = makeLetters(pack, texts);
  const results = makeResults(view, states.focus, margins);
  const selection = makeSelection(view, margins, (decision, candidate) => changed(PINNED, decision, candidate));
  const act = {
    jump: states.focus,
    describe: (state) => {
      changed(state, null, "described");
      states.front(state);
    },
    ruleOut: (state) => changed(state, null, RULED_OUT),
    ruleOutAll: (some) => replace({ ...copyOf(application), ...Object.fromEntries(some.map((state) => [state, RULED_OUT])) }, NONE_OCCUR),
  };
  const advice = makeAdvice(view);
  const offer = makeOffer(view, pack);
  const concessions = makeConcessions(view, {
    add: (one) => replace(withConcessions(application, [...(application[CONCESSIONS] ?? []), one]), CONCEDED),
    remove: (place) =>
      replace(withConcessions(application, application[CONCESSIONS].filter((_, at) => at !== place)), ""),
  });
  const tools = makeTools(texts, {
    rename: (title) => {
      edited();
      application.title = title;
      delete application.id; // a new name makes a new id
      later();
    },
    example: (one) => replace(exampleApplication(one), `${one.title}: ${one.story}`),
    copy: copyLink,
    download: () => offerFile(applicationFile(application, stateIds), `${identifier(application)}.yml`),
    record: printRecord,
    clear: () => replace(blank(stateIds), CLEARED),
    undo: () => {
      application = past.pop();
      tools.say("The previous answers are back.");
      showAll();
    },
  });
  const points = element("section", { class: "ws-points", "aria-label": "Open points" });
  const status = element("p", { class: "ws-status", role: "status" });
  const printed = element("section", { class: "ws-printed" });
  const record = element("section", { class: "ws-record", "aria-label": "Selection record" });
  place.replaceChildren(
    frame(
      tools,
      { node: [start.node, starter.node] },
      states,
      [
        status,
        next.node,
        selection.node,
        concessions.node,
        results.leading,
        points,
        letters.node,
        nearest.node,
        results.node,
        advice.node,
        offer.node,
        cautionsLink(),
      ],
      [printed, record],
    ),
  );

  aimMaps(place);

  function changed(state, input, text) {
    if (input !== null) {
      if (text === (isGiven(state, input) ? application[state][input] : "")) return; // left as it was
      edited();
      if (typeof application[state] !== "object") application[state] = Object.create(null);
      if (text === "") delete application[state][input];
      else application[state][input] = text;
      later();
      return;
    }
    edited();
    if (text === "undescribed") delete application[state];
    else if (text === "blanks_same") {
      past.push(copyOf(application));
      for (const input of answeredPerState(pack, application[stateIds[0]]))
        application[state][input] ??= SAME;
    } else application[state] = text === RULED_OUT ? RULED_OUT : Object.create(null);
    showAll();
  }

  // An edit ends what could be undone: undoing now would throw the edit away.
  function edited() {
    past.length = 0;
    tools.canUndo(false);
    tools.say();
  }

  function replace(next, words) {
    past.push(copyOf(application));
    application = next;
    tools.say(words);
    showAll();
  }

  function showAll() {
    tools.show(application.title ?? "", past.length > 0);
    states.show(application);
    showNow();
  }

  // After a keystroke: the leading verdicts at once, everything else when the page is idle.
  function later() {
    clearTimeout(timer);
    place.dataset.pending = "";
    idle.begin(evaluate());
    timer = setTimeout(() => idle.whenDone(settle), PAUSE);
  }

  function showNow() {
    idle.begin(evaluate());
    settle();
  }

  // Draws the leading verdicts; gives back what is left to work out and to draw.
  function evaluate() {
    const named = { ...application, id: identifier(application), title: application.title ?? "" };
    if (memory.answers.size > REMEMBERED) memory = newMemory();
    if (known.size > REMEMBERED) known.clear();
    const read = readApplication(pack, named, null, readAgain);
    const judged = judge(prepared, read.application, memory);
    nameLiquids(view, read.application);
    results.lead(judged);
    const rest = (selected) => {
      const waiting = waitingFor(view, judged);
      const fields = byField(read);
      states.report((state, input) => saidOf(fields, waiting, state, input));
      const stand = conceded(selected, read.application.concessions, today());
      last = { read, fields, selected, waiting, conceded: stand };
      margins.begin(read.application, judged, selected);
      return [
        () => showStart(),
        () => nearest.show(read.application),
        () => selection.show(selected, read.application.pinned, assumedWords(view, read)),
        () => advice.show(selected),
        () => offer.show(read.application),
        () => concessions.show(stand, read.problems.filter((one) => one.state === CONCESSIONS)),
        () => showPoints(pointItems(view, read, waiting, act), read.problems.length > 0),
        () => letters.show(selected, read),
        ...results.parts(selected, waiting),
        () => margins.fill(place),
      ];
    };
    return [() => {
      const selected = choose(prepared, read.application, judged);
      return [() => rest(selected)];
    }];
  }

  function readAgain(item, text, ...more) {
    const key = `${item.id} ${text}`;
    if (!known.has(key)) known.set(key, readAnswer(item, text, ...more));
    return known.get(key);
  }

  // Ends what is still to draw, and says it to the address and to those who listen.
  function settle() {
    clearTimeout(timer);
    idle.finish();
    const fragment = fragmentOf(application, stateIds);
    history.replaceState(history.state, "", fragment ? `#${fragment}` : location.pathname + location.search);
    const summary = summaryOf(view, last.selected);
    if (status.textContent !== summary) status.textContent = summary; // spoken only when it has changed
    place.dataset.evaluated = fragment;
    delete place.dataset.pending;
  }

  function showStart() {
    const shows = start.shows(application, last.selected, last.waiting);
    states.limit(shows);
    starter.show(application, last.fields.answers);
    next.show(last.selected, shows);
  }

  // What the line beneath a field says; see worksheet_fields.js.
  function saidOf(fields, waiting, state, input) {
    const key = `${state} ${input}`;
    const wanted = waiting.get(key);
    const problem = fields.problems.get(key);
    if (problem) return { fault: problem.message, fix: problem.fix };
    const line = fields.understood.get(key);
    if (!line) return { wanted };
    if (input === MIXED_WITH) {
      const strangers = fields.unknown.filter(([where, words]) => where === state && line.understood.includes(words));
      return { understood: [mixtureWords(view, fields.components.get(state)), ...strangers.map(([, words]) => words)].join("; "), wanted };
    }
    const note = / \(.*\)$/.exec(line.understood)?.[0] ?? ""; // of the unit, such as (US gallons per minute), or of a name
    return { understood: words(input, fields.answers.get(key)) + note, assumed: fields.assumed.has(key), wanted };
  }

  function isGiven(state, input) {
    return typeof application[state] === "object" && application[state][input] !== undefined;
  }

  function words(input, answer) {
    const text = view.inputs.get(input);
    return answerText(answer, text.unit_symbol, text.options);
  }

  function showPoints(items, unfold) {
    const wasOpen = points.querySelector("details")?.open ?? true;
    const summary = element("summary", {
      text: `${items.length} open ${items.length === 1 ? "point" : "points"}`,
    });
    const list = element("details", { open: wasOpen || unfold }, summary, element("ul", {}, items));
    points.replaceChildren(...(items.length ? [list] : []));
  }

  async function copyLink() {
    settle();
    try {
      await navigator.clipboard.writeText(location.href);
      tools.say(COPIED);
    } catch {
      tools.say("Copy this link: ", element("a", { href: location.href, text: location.href }));
    }
  }

  // The record takes the place of the sheet on the paper until it is printed.
  function printRecord() {
    settle();
    record.replaceChildren(recordView(view, texts, { ...last, margins: margins.chosen(), next: nextQuestion(pack, last.selected), day: today() }));
    place.classList.add("ws-recording");
    window.addEventListener("afterprint", () => place.classList.remove("ws-recording"), { once: true });
    window.print();
  }

  window.addEventListener("hashchange", () => {
    const next = applicationOf(location.hash, stateIds);
    if (next && fragmentOf(next, stateIds) !== fragmentOf(application, stateIds)) replace(next, "");
  });
  // The paper is set only when it is asked for: it is as long as the page and seldom wanted.
  let whole = null; // the values that follow from no answer
  beforePrint(() => {
    settle();
    const nothing = { id: "", title: "", states: [{ state: stateIds[0], answers: [] }] };
    whole ??= select(prepared, nothing).values;
    const said = (state, input) => saidOf(last.fields, last.waiting, state, input);
    printed.replaceChildren(...printedView(view, texts, { typed: application, ...last, said, whole }));
  });
  showAll();
}

// What was read, by field: there are a hundred fields in each state.
function byField({ problems, understood, application: { states, assumed, unknown } }) {
  const index = (lines) => new Map(lines.map((one) => [`${one.state} ${one.input}`, one]));
  return {
    problems: index([...problems].reverse()), understood: index(understood),
    assumed: new Set(assumed.map((one) => one.join(" "))),
    answers: new Map(states.flatMap((one) => one.answers.map(([input, answer]) => [`${one.state} ${input}`, answer]))),
    components: new Map(states.map((one) => [one.state, one.components])),
    unknown,
  };
}

const worksheet = document.getElementById("worksheet");
if (worksheet) openWorksheet(worksheet);
