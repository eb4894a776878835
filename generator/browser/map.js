// Gives back other views of the map of a table: other axes, other values of the other columns, and the
// reader's own answers when the address holds them (the same address as the worksheet's).
//
// The page was built with one view; the documents are read when a reader first asks for another.

import { applicationOf, fragmentOf } from "./address.js";
import { answerText, element, readDocument } from "./form.js";
import { node, svgElement } from "./map_nodes.js";
import { pictureOf } from "./map_picture.js";
import { readerNodes, readerStates, readerWants } from "./map_reader.js";
import { sceneOf } from "./map_scene.js";
import { sheetOf } from "./map_sheet.js";
import { defaultView, placesAsked, selectors, settledView } from "./map_view.js";
import { joined } from "./map_words.js";

// Makes the map of a figure answer to its lists and to the address.
export function openMap(figure) {
  const part = (name) => figure.querySelector(`[data-map-${name}]`);
  const address = (name) => new URL(figure.dataset[name], document.baseURI).href;
  const { points, counted } = JSON.parse(part("data").textContent);
  const controls = part("controls");
  let documents = null;
  let view = null;
  let readers = [];
  let application = null;
  let chosenState = "";

  const ask = () => {
    documents ??= Promise.all([readDocument(address("pack")), readDocument(address("texts"))]).then(
      ([pack, texts]) => ({ pack, texts, sheet: sheetOf(pack, texts, figure.dataset.map) }),
    );
    return documents;
  };
  const guarded = (work) => async (event) => {
    part("message").textContent = documents ? "" : "Reading the rules \u2026";
    try {
      work(await ask(), event);
      part("message").textContent = "";
    } catch (reason) {
      documents = null;
      part("message").textContent = `${reason.message} The table below holds the same rules.`;
    }
  };

  function draw({ pack, texts, sheet }) {
    const picture = pictureOf(sheet, view, points, counted);
    const drawing = svgElement(sceneOf(sheet, view, picture), address("root"));
    const reader = readers.find((one) => one.state === chosenState);
    const marks = reader ? readerNodes(pack, sheet, view, picture, reader) : [];
    const yours = svgElement(node("g", { class: "map-you" }, ...marks), address("root"));
    drawing.insertBefore(yours, drawing.querySelector(".map-dots"));
    part("place").replaceChildren(drawing);
    const chosen = selectors(sheet, view);
    if (controls) showControls(controls, sheet, view, chosen);
    if (part("shown")) {
      const words = chosen.map((one) => `${one.title}: ${one.options[one.chosen][1]}`);
      part("shown").textContent = words.length ? `Drawn for ${joined(words, "and")}.` : "";
    }
    if (reader) showReader({ pack, texts, sheet }, reader, marks.length > 0);
    figure.dataset.drawn = JSON.stringify(view);
  }

  function showReader({ pack, texts, sheet }, reader, isInView) {
    const title = (state) => texts.states.find((one) => one.id === state)?.title ?? state;
    const states = element(
      "select",
      { "aria-label": "Operating state", onchange: () => follow(states.value) },
      readers.map((one) => element("option", { value: one.state, text: title(one.state) })),
    );
    states.value = reader.state;
    const told = sheet.columns
      .filter((column) => column.source === "input")
      .map((column) => {
        const options = column.options;
        return `${column.title} ${answerText(reader.answers.get(column.name), column.unit, options)}`;
      });
    const stateIds = pack.states.map((state) => state.id);
    const link = element("a", {
      href: `${address("root")}#${fragmentOf(application, stateIds)}`,
      text: "Back to the worksheet",
    });
    const place = part("reader");
    place.hidden = false;
    place.replaceChildren(
      element("strong", { text: "Your answers " }),
      states,
      told.length ? ` ${told.join("; ")}. ` : " ",
      isInView ? "They are ringed, or shaded where they are still open. " : "They lie outside this view. ",
      link,
    );
  }

  const follow = guarded(({ pack, texts, sheet }, state) => {
    chosenState = state;
    const reader = readers.find((one) => one.state === state);
    view ??= defaultView(sheet);
    view = settledView(sheet, view.x, view.y, readerWants(pack, sheet, reader));
    draw({ pack, texts, sheet });
  });

  const readAddress = guarded((known) => {
    const stateIds = known.pack.states.map((state) => state.id);
    application = applicationOf(location.hash, stateIds) ?? application;
    readers = application ? readerStates(known.pack, known.sheet.table, application) : [];
    if (!readers.length) return;
    follow(readers[0].state);
    figure.scrollIntoView();
  });

  const change = guarded(({ pack, texts, sheet }, event) => {
    const before = view ?? defaultView(sheet);
    const value = (name) => controls.elements.namedItem(name)?.value;
    let x = value("x") ?? before.x;
    let y = value("y") ?? before.y;
    if (x === y) [x, y] = event.target.name === "x" ? [x, before.x] : [before.y, y];
    const wanted = new Map(before.fixed);
    for (const list of controls.querySelectorAll("select:not([name=x]):not([name=y])")) {
      wanted.set(list.name, JSON.parse(list.value));
    }
    view = settledView(sheet, x, y, wanted);
    draw({ pack, texts, sheet });
  });

  if (controls) {
    controls.hidden = false;
    controls.addEventListener("change", change);
    controls.addEventListener("submit", (event) => event.preventDefault());
  }
  const hasAnswers = () => location.hash.includes("=");
  window.addEventListener("hashchange", () => hasAnswers() && readAddress());
  if (hasAnswers()) readAddress();
}

// private

// The lists again, as what may be chosen depends on what is chosen; the one in use keeps the focus.
function showControls(controls, sheet, view, chosen) {
  const names = placesAsked(sheet).map((place) => [sheet.columns[place].name, sheet.columns[place].title]);
  const lists = [
    ["y", "Up the side", names, view.y],
    ["x", "Across", names, view.x],
  ].filter(([, , , name]) => name && names.length > 1);
  for (const one of chosen) {
    const options = one.options.map(([key, words]) => [JSON.stringify(key), words]);
    lists.push([one.column, one.title, options, options[one.chosen][0]]);
  }
  const focused = document.activeElement?.closest?.("[data-map-controls]") ? document.activeElement.name : "";
  controls.replaceChildren(
    ...lists.map(([name, label, options, value]) => {
      const list = element(
        "select",
        { name },
        options.map(([key, words]) => element("option", { value: key, text: words })),
      );
      list.value = value;
      return element("label", {}, element("span", { text: label }), " ", list);
    }),
  );
  if (focused) controls.elements.namedItem(focused)?.focus();
}

for (const figure of document.querySelectorAll("[data-map]")) openMap(figure);
