// Gives back a drawing as elements of the page: { tag, attributes: [[name, text]], children } as `map_scene`
// makes them. An attribute `href` holds an address of the site. Twin of generator/render/map_nodes.py.

import { plainText } from "./engine/numbers.js";

const SVG = "http://www.w3.org/2000/svg";

export function node(tag, attributes, ...children) {
  return { tag, attributes: Object.entries(attributes), children };
}

// Pixels as an attribute says them: to a tenth.
export function px(pixels) {
  return plainText(Math.floor(pixels * 10 + 0.5) / 10);
}

// The drawing as an element of the page; `root` is the address of the site.
export function svgElement(one, root) {
  const made = document.createElementNS(SVG, one.tag);
  for (const [name, text] of one.attributes) made.setAttribute(name, name === "href" ? root + text : text);
  made.append(
    ...one.children.map((child) => (typeof child === "string" ? child : svgElement(child, root))),
  );
  return made;
}
