// Gives back the letters that ask for the open answers: one to each who usually knows them, to copy or to keep.
//
// `makeLetters(pack, texts)` is { node, show(selected, read) }; the letters are written when they are unfolded.

import { letters } from "./engine/letters.js";
import { element } from "./form.js";
import { addressee, letterText } from "./letter_words.js";
import { offerFile } from "./worksheet_tools.js";

export function makeLetters(pack, texts) {
  const summary = element("summary", {});
  const body = element("div", {});
  let now = null;
  const draw = () => {
    if (fold.open) body.replaceChildren(...now.found.map((letter) => letterView(pack, texts, now.read, letter)));
  };
  const fold = element("details", { "data-fold": "letters", ontoggle: draw }, summary, body);
  const node = element("section", { class: "ws-letters", "aria-label": "Letters that ask for open answers" }, fold);
  const show = (selected, read) => {
    now = { read, found: letters(pack, selected) };
    const count = now.found.length;
    const asked = now.found.reduce((sum, letter) => sum + letter.asked.length, 0);
    node.hidden = count === 0;
    summary.textContent = `${count} ${count === 1 ? "letter" : "letters"} to those who know: ` +
      `${asked} open ${asked === 1 ? "question" : "questions"}`;
    draw();
  };
  return { node, show };
}

// private

function letterView(pack, texts, read, letter) {
  const text = letterText(pack, texts, read, letter);
  const said = element("span", { class: "ws-muted", role: "status" });
  const count = letter.asked.length;
  const copy = async () => {
    try {
      await navigator.clipboard.writeText(text);
      said.textContent = " Copied.";
    } catch {
      said.textContent = " Not copied: mark the text and copy it.";
    }
  };
  const button = (words, onclick) => element("button", { type: "button", class: "ws-small", onclick, text: words });
  return element(
    "details",
    { "data-letter": letter.asked_of },
    element("summary", { text: `${addressee(letter.asked_of)}: ${count} ${count === 1 ? "question" : "questions"}` }),
    element("p", {}, button("Copy", copy), " ",
      button("Download", () => offerFile(text, `${read.application.id}_${letter.asked_of}.txt`, "text/plain")), said),
    element("pre", { class: "ws-letter", text }),
  );
}
