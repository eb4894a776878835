// Gives back the texts of a pack by id, and the addresses of the pages that show them.

import { element } from "./form.js";

// `base` is the address of the site, with a slash at its end; `shared` holds the inputs that all states
// share.
export function byId(pack, texts, base) {
  const index = (items, key = "id") => new Map(items.map((item) => [item[key], item]));
  const titles = new Map();
  for (const decision of texts.decisions) {
    for (const item of decision.items) titles.set(`${decision.id} ${item.id}`, item.title);
  }
  return {
    base,
    shared: new Set(pack.inputs.filter((input) => !input.per_state).map((input) => input.id)),
    firstState: pack.states[0].id,
    rules: index(texts.rules.map((rule) => ({ ...rule, basis: texts.bases[rule.basis] })), "rule"),
    inputs: index(texts.inputs),
    states: index(texts.states),
    decisions: index(texts.decisions),
    derived: index(texts.derived),
    sources: index(texts.sources),
    cautions: index(texts.cautions),
    recalled: pack.recalled,
    titles, // of candidates, by "decision candidate"
    liquids: new Map(), // of the components of mixtures, by "state place"; the worksheet fills them in
  };
}

export function inputTitle(view, input) {
  return view.inputs.get(input)?.title ?? input;
}

// Open inputs as (state, input) pairs, each once: what all states share is asked in the first one.
export function askedFor(view, open) {
  const keys = open.map(([state, input]) => `${view.shared.has(input) ? view.firstState : state} ${input}`);
  return [...new Set(keys)].map((key) => key.split(" "));
}

// `Highest temperature (Cleaning)`; without the state where all states share the answer.
export function askedTitle(view, state, input) {
  const title = inputTitle(view, input);
  return view.shared.has(input) ? title : `${title} (${stateTitle(view, state)})`;
}

// `Usual service: Clean (Normal operation, Flushing)` of every assumed answer, in one line; nothing where none is assumed.
export function assumedWords(view, read) {
  const states = new Map(); // by what was assumed
  for (const [state, input] of read.application.assumed) {
    const { understood } = read.understood.find((one) => one.state === state && one.input === input);
    const title = new Map(view.inputs.get(input)?.options ?? []).get(understood) ?? understood;
    const words = `${inputTitle(view, input)}: ${title}`;
    states.set(words, [...(states.get(words) ?? []), stateTitle(view, state)]);
  }
  const lines = [...states].map(([words, where]) => `${words} (${where.join(", ")})`);
  return lines.length ? `Assumed, not answered: ${lines.join("; ")}.` : "";
}

// What was understood with the titles of its choices: `pfa or ptfe` becomes `PFA or PTFE`; a note behind it stays.
export function inTitles(options, taken) {
  const known = new Map(options);
  const end = taken.indexOf(" (");
  const names = end < 0 ? taken : taken.slice(0, end);
  return names.split(" or ").map((name) => known.get(name) ?? name).join(" or ") + taken.slice(names.length);
}

// What is said of each name that the guide does not hold.
export function unknownLines(view, { unknown }) {
  return unknown.map(([state, words]) => `${stateTitle(view, state)}: ${words}. Its chemistry stays open.`);
}

export function stateTitle(view, state) {
  return view.states.get(state)?.title ?? state;
}

// The same addresses as generator/render/addresses.py.

const FOLDERS = {
  size: "sizes",
  liner: "liners",
  electrode_material: "electrode-materials",
  earthing: "earthing",
  ring_material: "ring-materials",
};

export function ruleAddress(view, rule) {
  return view.base + rule.link;
}

// A link to the map of a rule table; `aimMaps` gives it the answers.
export function mapLink(view, table) {
  const address = `${view.base}tables/${table}/`;
  return element("a", { href: `${address}#map`, "data-map": address, text: "on the map" });
}

// Lets every such link within `node` lead to the map with the answers of the moment on it: they stand in the address
// of the worksheet, and are added when a link is about to be followed.
export function aimMaps(node) {
  const aim = ({ target }) => {
    const link = target.closest("a[data-map]");
    if (link) link.href = link.dataset.map + (location.hash || "#map");
  };
  for (const event of ["pointerdown", "click", "contextmenu"]) node.addEventListener(event, aim, true);
}

export function candidateAddress(view, decision, candidate) {
  const folder = FOLDERS[decision] ?? decision.replaceAll("_", "-");
  return `${view.base}${folder}/${decision === "size" ? `#size-${candidate}` : `${candidate}/`}`;
}

export function formulaAddress(view, formula) {
  return `${view.base}formulas/${formula}/`;
}
