/** In which order test files run: another one for every seed, the same one for the same seed. */

/** @returns a number for a file that hangs on its name and the seed, to sort by */
export function placeOf(path: string, seed: number): number {
  let place = seed;
  for (const character of path.slice(Math.max(path.lastIndexOf('/'), path.lastIndexOf('\\')) + 1))
    place = (Math.imul(place, 31) + character.charCodeAt(0)) >>> 0;
  return place;
}
