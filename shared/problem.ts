/**
 * Everything that can go wrong on a good day and reaches a person, sorted by topic. What happened and what to do next is said in
 * `words/problems.ts`.
 */
export const problemCodes = [
  // window and host
  'request-invalid',
  'internal',
  'not-allowed',
  'wire-closed',
  'link-used',
  'key-unknown',
  'too-many-windows',
  'too-fast',
  'message-too-big',
  'download-gone',
  'export-stopped',
  'settings-damaged',
  'folder-copied',
  // sources
  'port-busy',
  'port-no-permission',
  'port-not-found',
  'port-settings',
  'port-lost',
  'port-gone',
  'port-other-device',
  'source-silent',
  'run-not-found',
  'run-limit',
  'run-ended',
  'no-samples',
  // run files
  'file-not-found',
  'file-damaged',
  'figures-file-wrong',
  'file-exists',
  'file-foreign',
  'file-newer',
  'file-too-big',
  'disk-full',
  'disk-failed',
  // recipes
  'recipe-invalid',
  'recipe-unclear',
  'lines-refused',
  'recipe-not-found',
  // combustion
  'value-out-of-range',
  'value-missing',
  'visit-not-clear',
  'fuel-unknown',
  'fuel-analysis',
  'fuel-no-density',
  'not-a-number',
  'two-separators',
  // store
  'store-locked',
  'store-read-only',
  'store-damaged',
  'store-foreign',
  'store-gone',
  'restore-in-capture',
  'restore-under-way',
  'restore-stuck',
  'restore-undone',
  'store-newer',
  'not-found',
  'changed-elsewhere',
  'bench-signed',
  'bench-unsaved',
  'bench-not-ready',
  'bench-no-session',
  'bench-open',
  'bench-not-signable',
  'visit-signed',
  'has-visits',
  'visit-finished',
  'visit-not-saved',
  'visit-altered',
  'question-gone',
  'bypass-open',
  'visit-not-safe',
  'visit-not-signable',
  // report
  'no-printer',
  'print-failed',
  // office
  'office-off',
  'office-none',
  'office-newer',
  'office-older',
  'office-server-old',
  'office-unreachable',
  'office-password',
  'office-asks-password',
  'office-certificate',
  'office-no-tls',
  'office-read-only',
  'office-no-access',
  'office-user-taken',
  'office-full',
  'office-item-wrong',
  // command line
  'usage',
] as const;
export type ProblemCode = (typeof problemCodes)[number];
export const isProblemCode = (code: unknown): code is ProblemCode => (problemCodes as readonly unknown[]).includes(code);

/** A failure as it travels: `detail` is for the log and the second line, never the headline. */
export type Problem = { code: ProblemCode; detail?: string | undefined };

export const problem = (code: ProblemCode, detail?: string): Problem => (detail === undefined ? { code } : { code, detail });
