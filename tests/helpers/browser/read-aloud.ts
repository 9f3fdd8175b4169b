/** What a screen reader would say of a page, from Playwright's snapshot of the accessibility tree: names that are missing, and words that run into each other. */

/** roles that say nothing without a name */
const NAMED = /^(?:table|button|link|textbox|combobox|spinbutton|checkbox|radio|img|dialog|slider|progressbar|region|navigation)$/;
/** `- role "name" [state]:`; a name with a colon in it makes the whole line a quoted key */
const LINE = /^\s*- '?([a-z]+)(?: "((?:[^"\\]|\\.)*)")?/;

/** A name that sits on its unit, a word on the next word, a word on its figure. A file, a port or a hash is one token on purpose. */
const RUN_TOGETHER = [/(?:O2|CO2?|[a-z]{3})(?:ppm|%|°)/, /[a-z]{3}[A-Z][a-z]/, /^[A-Za-z]?[a-z]{3,}\d/, /\d[A-Z][a-z]{2}/];
/** a full stop before a digit is one of a figure */
const isOneToken = (token: string): boolean => /[/\\_-]|\.(?!\d|$)/.test(token) || /^[0-9a-f]{16,}$/.test(token);

export function readAloudFaults(snapshot: string): string[] {
  return snapshot.split('\n').flatMap((line) => {
    const [, role = '', name] = LINE.exec(line) ?? [];
    if (name === undefined) return NAMED.test(role) ? [`read aloud: a ${role} without a name`] : [];
    return name
      .split(/\s+/)
      .filter((token) => !isOneToken(token) && RUN_TOGETHER.some((pattern) => pattern.test(token)))
      .map((token) => `read aloud: “${token}” in the ${role} “${name.slice(0, 80)}”`);
  });
}
