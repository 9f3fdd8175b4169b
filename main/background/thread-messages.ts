/** What the host and its background thread say to each other. */

export type ToThread<Name extends string> =
  | { readonly kind: 'run'; readonly id: number; readonly name: Name; readonly ask: unknown }
  | { readonly kind: 'stop'; readonly id: number }
  | { readonly kind: 'fed'; readonly id: number; readonly done: boolean; readonly value: unknown };

export type FromThread =
  /** for the log */
  | { readonly kind: 'said'; readonly text: string }
  | { readonly kind: 'reached'; readonly id: number; readonly share: number }
  | { readonly kind: 'pull'; readonly id: number }
  | { readonly kind: 'done'; readonly id: number; readonly answer: unknown }
  | { readonly kind: 'failed'; readonly id: number; readonly failure: PlainFailure };

/** An error on its way between threads; the codes say what the person is told. */
export type PlainFailure = {
  readonly message: string;
  readonly stack: string | undefined;
  readonly code: unknown;
  readonly sqliteCodeName: unknown;
};

export function plain(failure: unknown): PlainFailure {
  const { message = String(failure), stack, code, sqliteCodeName } = (failure ?? {}) as Partial<PlainFailure>;
  const text = (value: unknown): unknown => (typeof value === 'string' ? value : undefined);
  return { message, stack, code: text(code), sqliteCodeName: text(sqliteCodeName) };
}

export function revive({ message, stack, code, sqliteCodeName }: PlainFailure): Error {
  const failure = new Error(message);
  if (stack !== undefined) failure.stack = stack;
  return Object.assign(failure, code !== undefined && { code }, sqliteCodeName !== undefined && { sqliteCodeName });
}
