/**
 * Names and lines of a file may hold anything, also signs that a terminal takes for orders (colours, titles, what stands on the screen already).
 * Line ends and tabs stay.
 */
export const plainText = (text: string): string => text.replace(/[\x00-\x08\x0b-\x1f\x7f-\x9f\u202a-\u202e\u2066-\u2069]/g, '');
