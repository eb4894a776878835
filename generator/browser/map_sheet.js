// Gives back a rule table with the words that its map prints, from the two documents that the browser reads.
// Twin of generator/render/map_sheet.py.

const NOT_APPLICABLE = "not_applicable";

export const NO_VALUE = "no_value"; // what the rule of a table without a value is called after its table
export const LEFT_OVER = "otherwise";

// The sheet of one table: { table, title, columns: [{ name, title, kind, source, unit, low, high, absent,
// options }], rules: { id: { because, link } } }. Columns stand in the table's order; `absent` says what it
// means that there is no number.
export function sheetOf(pack, texts, id) {
  const table = pack.tables.find((one) => one.id === id);
  const names = new Set([...table.rows.map((row) => row.rule), `${id}.${NO_VALUE}`]);
  const rules = Object.create(null);
  for (const { rule, because, link } of texts.rules) if (names.has(rule)) rules[rule] = { because, link };
  return {
    table,
    title: texts.tables.find((one) => one.id === id).title,
    columns: table.columns.map((column) => columnOf(pack, texts, column)),
    rules,
  };
}

// private

function columnOf(pack, texts, column) {
  const { name, kind, source } = column;
  const [record, text] = recordsOf(pack, texts, column);
  const mayBeAbsent = source === "input" && record.may_be_absent;
  let absent = mayBeAbsent ? "not applicable" : "";
  if (source === "derived") absent = "no value";
  if (kind === "choice") {
    const options =
      source === "decision" ? text.items.map((item) => [item.id, item.title]) : [...text.options];
    if (absent && options.every(([id]) => id !== NOT_APPLICABLE)) options.push([NOT_APPLICABLE, absent]);
    return { name, title: text.title, kind, source, unit: "", low: 0, high: 0, absent: "", options };
  }
  const { low, high } = source === "derived" ? record.valid : record;
  return { name, title: text.title, kind, source, unit: text.unit_symbol, low, high, absent, options: [] };
}

function recordsOf(pack, texts, { name, source }) {
  const rooms = { input: "inputs", derived: "derived", decision: "decisions" };
  const find = (document) => document[rooms[source]].find((one) => one.id === name);
  return [find(pack), find(texts)];
}
