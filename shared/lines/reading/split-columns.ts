/** The columns of a line: their texts, trimmed, and where each begins. */
export type Cells = { readonly texts: string[]; readonly starts: number[] };

const add = (cells: Cells, text: string, from: number, to: number): void => {
  let start = from;
  let end = to;
  while (start < end && (text.charCodeAt(start) === 32 || text.charCodeAt(start) === 9 || text.charCodeAt(start) === 160)) start += 1;
  while (end > start && (text.charCodeAt(end - 1) === 32 || text.charCodeAt(end - 1) === 9 || text.charCodeAt(end - 1) === 160)) end -= 1;
  cells.texts.push(text.slice(start, end));
  cells.starts.push(start);
};

function splitBlanks(text: string): Cells {
  const cells: Cells = { texts: [], starts: [] };
  let start = -1;
  for (let at = 0; at <= text.length; at++) {
    const isBlank = at === text.length || text.charCodeAt(at) === 32 || text.charCodeAt(at) === 9;
    if (!isBlank && start < 0) start = at;
    if (isBlank && start >= 0) {
      cells.texts.push(text.slice(start, at));
      cells.starts.push(start);
      start = -1;
    }
  }
  return cells;
}

const QUOTE = 34;

/** Quoted cells as RFC 4180 has them: the delimiter inside quotes counts as text, a doubled quote is one. */
function splitQuoted(text: string, delimiter: string): Cells {
  const cells: Cells = { texts: [], starts: [] };
  let from = 0;
  while (from <= text.length) {
    let start = from;
    while (text.charCodeAt(start) === 32) start += 1;
    if (text.charCodeAt(start) === QUOTE) {
      let end = start + 1;
      while (end < text.length && (text.charCodeAt(end) !== QUOTE || text.charCodeAt(end + 1) === QUOTE))
        end += text.charCodeAt(end) === QUOTE ? 2 : 1;
      cells.texts.push(
        text
          .slice(start + 1, end)
          .replaceAll('""', '"')
          .trim(),
      );
      cells.starts.push(start + 1);
      const next = text.indexOf(delimiter, end);
      from = next < 0 ? text.length + 1 : next + delimiter.length;
    } else {
      const next = text.indexOf(delimiter, from);
      add(cells, text, from, next < 0 ? text.length : next);
      from = next < 0 ? text.length + 1 : next + delimiter.length;
    }
  }
  return cells;
}

/** Splits a line. A delimiter that ends the line opens no further column. */
export function splitColumns(text: string, delimiter: string, quoted = false): Cells {
  if (delimiter === 'blanks') return splitBlanks(text);
  if (quoted && text.includes('"')) return splitQuoted(text, delimiter);
  const cells: Cells = { texts: [], starts: [] };
  let from = 0;
  if (delimiter === 'comma-or-semicolon') {
    for (let at = 0; at < text.length; at++) {
      if (text[at] !== ',' && text[at] !== ';') continue;
      add(cells, text, from, at);
      from = at + 1;
    }
  } else {
    for (let at = text.indexOf(delimiter); at >= 0; at = text.indexOf(delimiter, from)) {
      add(cells, text, from, at);
      from = at + delimiter.length;
    }
  }
  add(cells, text, from, text.length);
  return cells;
}
