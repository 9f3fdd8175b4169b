/** What a row is found by: lower case, without accents, so that 'muller' finds 'Müller'. */
export const fold = (text: string): string => text.normalize('NFKD').replace(/\p{M}/gu, '').toLowerCase();

/** Every word has to occur. `%` and `_` typed by the person are letters, not wildcards. */
export function searchClause(words: string, column: string): { sql: string; values: string[] } {
  const terms = fold(words).split(/\s+/).filter(Boolean).slice(0, 8);
  if (terms.length === 0) return { sql: '1', values: [] };
  return {
    sql: terms.map(() => `${column} LIKE ? ESCAPE '\\'`).join(' AND '),
    values: terms.map((term) => `%${term.replace(/[\\%_]/g, '\\$&')}%`),
  };
}
