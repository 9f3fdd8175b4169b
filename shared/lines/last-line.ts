const LINES_BEFORE = 5;
const LEAST_BEFORE = 3;

const looksOf = (text: string): string => text.trimEnd().replace(/\d+/g, '0');
/** the last value with what is behind it; a comma parts values only where nothing else does */
const tailOf = (text: string): number => (/[;|\s=:]/.test(text.trimEnd()) ? /[^;|\s=:]*$/ : /[^,]*$/).exec(text.trimEnd())?.[0].length ?? 0;

/**
 * A file that ends without the end of a line ends anywhere: is its last line as whole as those before it? '21' may be the front of '21.7', so that the last
 * value is as long as the longest before it, too. A whole one that is shorter is lost, which is one line of a file.
 */
export function isWholeLike(last: string, before: readonly string[]): boolean {
  const near = before.slice(-LINES_BEFORE);
  // a head and one reading tell nothing
  return (
    near.length < LEAST_BEFORE || (near.some((text) => looksOf(text) === looksOf(last)) && tailOf(last) >= Math.max(...near.map(tailOf)))
  );
}
