// Gives back a list of which only those entries are shown that hold every word typed above it. The box stands in the page
// already, hidden: without this script nothing can be typed that would do nothing.
//
// It is no module, and asks no server: a page that is opened from a disk may not load one.
(() => {
  for (const filter of document.querySelectorAll("[data-list-filter]")) {
    const box = filter.querySelector("input");
    const said = filter.querySelector("[role=status]");
    const groups = [...filter.closest("article").querySelectorAll("section:has(> .g-entries)")];
    const entries = groups.flatMap((group) => [...group.querySelectorAll(".g-entries > li")]);
    const words = entries.map((entry) => entry.textContent.toLowerCase());
    const show = () => {
      const wanted = box.value.toLowerCase().split(/\s+/).filter(Boolean);
      entries.forEach((entry, place) => { entry.hidden = !wanted.every((word) => words[place].includes(word)); });
      for (const group of groups) group.hidden = !group.querySelector(".g-entries > li:not([hidden])");
      const shown = entries.filter((entry) => !entry.hidden).length;
      said.textContent = wanted.length ? `${shown} of ${entries.length} shown` : "";
    };
    box.addEventListener("input", show);
    filter.hidden = false;
    show(); // a browser that comes back to the page may have kept what was typed
  }
})();
