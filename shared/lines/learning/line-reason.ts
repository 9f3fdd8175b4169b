/** What learning says about how lines are built: a key with its figures. The sentences are in `shared/words/lines/learning.ts`. */
export type LineReason =
  | { readonly key: 'columns'; readonly count: number; readonly delimiter: string; readonly lines: number; readonly all: number }
  | { readonly key: 'header' | 'units-row' }
  | { readonly key: 'json' | 'hex-registers'; readonly count: number }
  | { readonly key: 'json-one-value'; readonly tag: string }
  | { readonly key: 'tagged'; readonly column: number; readonly tags: readonly string[] }
  | { readonly key: 'fixed'; readonly length: number; readonly count: number }
  | { readonly key: 'keys-in-turn' | 'cycle'; readonly count: number }
  | { readonly key: 'markup' | 'names-behind' | 'template'; readonly count: number; readonly lines: number }
  | { readonly key: 'keys'; readonly count: number; readonly separator: string; readonly lines: number }
  | { readonly key: 'comma-twice'; readonly count: number; readonly names: number }
  | { readonly key: 'check'; readonly lines: number; readonly isProbable: boolean }
  | { readonly key: 'clock'; readonly clock: ClockReason };

/** where the instrument's clock was found */
export type ClockReason =
  | 'date-time'
  | 'day-of-year'
  | 'clock'
  | 'six-digits'
  | 'counts-seconds'
  | 'counts-milliseconds'
  | 'counts-minutes'
  | 'counts-days';
