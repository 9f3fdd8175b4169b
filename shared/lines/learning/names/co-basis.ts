const corrected =
  /(?:^|[^a-z0-9])co(?![a-z0-9]).{0,30}?(?:(?:\b(?:ref|bez|rif)\w*\.?|\b(?:at|to|bei|auf|al?)|@|\u00e0)\s*:?\s*\d{1,2}(?:[.,]\d+)?\s*(?:%|vol|pct).{0,8}?o ?2|\b(?:corr|korr)\w*|\bair[- ]?free|\bluftfrei|\bundiluted|\bunverd\w*)/i;
/** a table's head or a reading says it of one column, a banner of all */
const isRow = /[;=|\t{]|,.*,/;
const LONGEST = 120;
/** what comes with every reading is no banner */
const MOST_OF_LINES = 0.2;

/** A line of words that says what the CO of all others is: 'all CO at 3 % O2', 'CO corrected'. */
export function coBasisIn(texts: readonly string[]): string | undefined {
  const said = texts.filter((text) => text.length <= LONGEST && !isRow.test(text) && corrected.test(text));
  return said.length > 0 && said.length <= Math.max(1, texts.length * MOST_OF_LINES) ? said[0]?.trim() : undefined;
}

/** A line that is no reading says so of all that follow. A figure in it beside the reference is a value of its own. */
export function saysCoBasis(text: string): boolean {
  if (text.length > LONGEST || isRow.test(text)) return false;
  const rest = text.replace(/\d{1,2}(?:[.,]\d+)?\s*(?:%|vol|pct).{0,8}?o ?2/i, '');
  return corrected.test(text) && !/\d/.test(rest);
}
