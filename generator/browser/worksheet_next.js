// Gives back the line that names the next question and leads to its field.
//
// `makeNext(view, pack, jump)` is { node, show(selected, shows) }; `shows(state, input)` says whether a field is shown:
// in the short start the next question is the first of those that are.

import { rankedQuestions } from "./engine/next_question.js";
import { element } from "./form.js";
import { questionWords } from "./question_words.js";
import { askedTitle } from "./worksheet_texts.js";

export function makeNext(view, pack, jump) {
  const node = element("p", { class: "ws-next" });
  const show = (selected, shows) => {
    const ranked = rankedQuestions(pack, selected);
    const one = ranked.find(({ state, input }) => shows(state, input)) ?? ranked[0];
    node.hidden = one === undefined;
    if (one === undefined) return;
    const isFocused = node.contains(document.activeElement);
    const button = element("button", {
      type: "button",
      class: "ws-small",
      "data-next": `${one.state} ${one.input}`,
      onclick: () => jump(one.state, one.input),
      text: askedTitle(view, one.state, one.input),
    });
    node.replaceChildren("Next question: ", button, element("span", { class: "ws-muted", text: ` ${questionWords(one)}` }));
    if (isFocused) button.focus({ preventScroll: true });
  };
  return { node, show };
}
