// Gives back which rows of a table an answer reaches, as the bits of one BigInt: bit i is the row at place i.
//
// The conditions of a column cut its values into atoms: for numbers every interval end, what lies between two
// ends, and absence; for choices every option. All values of an atom reach the same rows. So an answer,
// whatever its set, reaches the rows of any of its atoms, and is held by the rows that all of its atoms have.
// A number answer is {intervals: [[low, high], ...], absent}, a choice answer {ids: [...]}. Twin of
// generator/evaluate/columns.py.

// The column at `place`; `ids` are all that an answer to a choice column may have. Rows per atom. Numbers:
// `atoms` are those below the first of the rising `cuts`, at it, between it and the next, and so on; `absent`
// is one more. Choices: `options`. `asking` are the rows that set a condition in this column.
export function indexColumn(table, place, ids) {
  const column = table.columns[place];
  const holding = column.cells.map(() => 0n); // rows per condition
  let asking = 0n;
  table.rows.forEach((content, row) => {
    if (content.cells[place] >= 0) {
      holding[content.cells[place]] |= 1n << BigInt(row);
      asking |= 1n << BigInt(row);
    }
  });
  const every = (1n << BigInt(table.rows.length)) - 1n;
  const rowsWhere = (matches) =>
    column.cells.reduce((rows, cell, i) => (matches(cell) ? rows | holding[i] : rows), every & ~asking);

  if (column.kind === "choice") {
    const options = new Map(ids.map((name) => [name, rowsWhere((cell) => cell.ids.includes(name))]));
    return { cuts: [], atoms: [], absent: 0n, options, asking, every, derived: false };
  }
  const ends = column.cells.flatMap((cell) => cell.intervals.flatMap((part) => [part.low, part.high]));
  const cuts = [...new Set(ends)].sort((a, b) => a - b);
  const atoms = Array.from({ length: 2 * cuts.length + 1 }, (_, atom) =>
    rowsWhere((cell) => hasAtom(cell, cuts, atom)));
  return {
    cuts, atoms, absent: rowsWhere((cell) => cell.absent), options: new Map(), asking, every,
    derived: column.source === "derived",
  };
}

// The rows that the answer reaches in this column: {rows, sure, perhaps, never}; `rows` that some completion
// reaches, those that every completion reaches (`sure`), and of these the rows that `perhaps` or for certain
// (`never`) find no value where they ask for one. A derived value that may be absent leaves every row in
// reach.
export function rowsReached(column, answer) {
  const isChoice = answer.ids !== undefined;
  let atoms;
  if (isChoice) {
    atoms = answer.ids.map((name) => column.options.get(name));
  } else if (!answer.absent && answer.intervals.length === 1 &&
      answer.intervals[0][0] === answer.intervals[0][1]) {
    const rows = column.atoms[atomAt(column.cuts, answer.intervals[0][0])];
    return { rows, sure: rows, perhaps: 0n, never: 0n };
  } else {
    atoms = answer.intervals.flatMap(([low, high]) =>
      column.atoms.slice(atomAt(column.cuts, low), atomAt(column.cuts, high) + 1));
    if (answer.absent && !column.derived) atoms.push(column.absent);
  }
  let rows = 0n;
  let sure = column.every;
  for (const atom of atoms) {
    rows |= atom;
    sure &= atom;
  }
  const { asking, every } = column;
  if (isChoice || !(answer.absent && column.derived)) return { rows, sure, perhaps: 0n, never: 0n };
  if (answer.intervals.length === 0) return { rows: every, sure: every, perhaps: 0n, never: asking };
  return { rows: every, sure: every & ~asking, perhaps: asking & rows, never: asking & ~rows };
}

// What is reached in two columns at once.
export function both(one, other) {
  return {
    rows: one.rows & other.rows, sure: one.sure & other.sure,
    perhaps: one.perhaps | other.perhaps, never: one.never | other.never,
  };
}

// The places of the rows, in their order.
export function placesOf(rows) {
  const places = [];
  for (let from = 0; rows > 0n; from += 32, rows >>= 32n) {
    let word = Number(rows & 0xffffffffn);
    while (word !== 0) {
      const lowest = 31 - Math.clz32(word & -word);
      places.push(from + lowest);
      word = (word & (word - 1)) >>> 0;
    }
  }
  return places;
}

// private

function atomAt(cuts, number) {
  let place = 0;
  for (let end = cuts.length; place < end;) {
    const middle = (place + end) >> 1;
    if (cuts[middle] < number) place = middle + 1;
    else end = middle;
  }
  return place < cuts.length && cuts[place] === number ? 2 * place + 1 : 2 * place;
}

function hasAtom(cell, cuts, atom) {
  return cell.intervals.some((part) => intervalHasAtom(part, cuts, atom));
}

function intervalHasAtom(part, cuts, atom) {
  if (atom % 2 === 1) {
    const number = cuts[(atom - 1) / 2];
    return (part.low < number || (part.low_in && part.low === number)) &&
      (number < part.high || (part.high_in && number === part.high));
  }
  if (atom === 0 || atom === 2 * cuts.length) return false; // every end is a cut: nothing lies beyond
  return part.low <= cuts[atom / 2 - 1] && cuts[atom / 2] <= part.high;
}
