// Gives back the worksheet's tools: the name of the measuring point, the reference cases, and what can be done
// with the application as a whole.
//
// `makeTools(texts, act)` is { node, show(title, canUndo), canUndo(can), say(...parts) }; `act` has
// rename(title), example(one), copy(), download(), record(), clear() and undo().

import { element } from "./form.js";

export function makeTools(texts, act) {
  const title = element("input", {
    type: "text",
    id: "ws-title",
    autocomplete: "off",
    placeholder: "such as: intake line 3",
    oninput: () => act.rename(title.value.trim()),
  });
  const examples = element(
    "select",
    { id: "ws-example", onchange: () => chosen() },
    element("option", { value: "", text: "choose a duty or a case" }),
    groupOf("Starter sheets, by duty", texts.starters),
    groupOf("Reference cases", texts.cases),
  );
  const chosen = () => {
    const found = [...texts.starters, ...texts.cases].find((one) => one.id === examples.value);
    examples.value = "";
    if (found) act.example(found);
  };
  const button = (text, onclick) => element("button", { type: "button", class: "ws-button", onclick, text });
  const undo = button("Undo", act.undo);
  const message = element("p", { class: "ws-message", role: "status" });
  const tool = (control, label) =>
    element("div", { class: "ws-tool" }, element("label", { for: control.id, text: label }), control);
  const node = element(
    "div",
    { class: "ws-tools" },
    tool(title, "Measuring point"),
    tool(examples, "Begin with"),
    element(
      "div",
      { class: "ws-buttons" },
      button("Copy link", act.copy),
      button("Download file", act.download),
      button("Print", () => window.print()),
      button("Record", act.record),
      button("Clear", act.clear),
      undo,
    ),
    message,
  );
  const canUndo = (can) => {
    undo.hidden = !can;
  };
  const show = (name, can) => {
    title.value = name;
    canUndo(can);
  };
  return { node, show, canUndo, say: (...parts) => message.replaceChildren(...parts) };
}

// A list of applications in the choice of those to begin with; nothing where there are none.
function groupOf(label, several) {
  return (
    several.length > 0 &&
    element(
      "optgroup",
      { label },
      several.map((one) => element("option", { value: one.id, text: one.title })),
    )
  );
}

// Hands the reader a file of this name.
export function offerFile(text, name, type = "text/yaml") {
  const address = URL.createObjectURL(new Blob([text], { type }));
  element("a", { href: address, download: name }).click();
  setTimeout(() => URL.revokeObjectURL(address), 1000);
}
