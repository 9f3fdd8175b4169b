/**
 * Visit -> exactly what the report says, every number already written. The template (page/) adds no figure and no word of its own;
 * what a drawing needs beside text is handed on as numbers.
 */
import type { AirCurvePicture } from './drawings/curve-places.ts';
import type { LossBarPicture } from './drawings/LossBar.tsx';
import type { TrendPicture } from './drawings/TrendDrawing.tsx';
import type { ScalePicture } from './drawings/VerdictScale.tsx';
import type { Picture } from '../geometry/drawing/picture-mark.ts';
import type { FigureText } from './card-format.ts';
import type { CardVerdict } from '../tuning/card/target-card.ts';

export type VerdictShape = CardVerdict | 'alarm';

export type CardRow = {
  readonly label: string;
  readonly basis: string;
  readonly unit: string;
  readonly found: FigureText | undefined;
  readonly left: FigureText | undefined;
  /** absent when no limit was chosen */
  readonly limit?: { readonly text: string; readonly source: string; readonly scale: ScalePicture | undefined } | undefined;
  readonly verdict?: { readonly shape: CardVerdict; readonly word: string } | undefined;
};

export type CardTable = {
  readonly title: string;
  readonly rows: readonly CardRow[];
  readonly notes: readonly string[];
  /** rows as low as they can be */
  readonly tight?: boolean;
  /** nothing was read as left: its column is away, and the verdicts are of what was found */
  readonly foundOnly?: boolean;
};

/** One thing that is known of a burner that was left off. */
export type KnownRow = {
  readonly sign: 'fail' | 'notice' | 'not-applicable' | 'open';
  readonly name: string;
  readonly value: FigureText | undefined;
  readonly unit: string;
  readonly limit: string;
  readonly when: string;
};

export type NotSafe = {
  readonly known: readonly KnownRow[];
  readonly left: readonly { readonly name: string; readonly about: string; readonly when: string }[];
  /** in the order of the work */
  readonly before: readonly string[];
};

export type Fact = { readonly label: string; readonly value: string };
export type Cell = string | { readonly text: string; readonly half?: string | undefined; readonly strong?: boolean };
export type Column = {
  readonly label: string;
  readonly figures?: boolean;
  /** the same for every figure below it: then it stands in the head alone */
  readonly half?: string | undefined;
  /** share of the table's width; all columns of a table have one, or none has */
  readonly width: number;
};

/** The building blocks of everything after page 1. */
export type Block =
  | { readonly kind: 'text'; readonly text: string; readonly tone?: 'note' | 'strong' | 'alarm' | 'big' }
  /** a hash in groups, with what it is of: never on two pages */
  | { readonly kind: 'hash'; readonly label: string; readonly text: string }
  | { readonly kind: 'list'; readonly items: readonly string[] }
  | { readonly kind: 'facts'; readonly facts: readonly Fact[] }
  | {
      readonly kind: 'table';
      readonly caption?: string;
      readonly columns: readonly Column[];
      readonly rows: readonly (readonly Cell[])[];
      /** many columns: smaller, figures closer */
      readonly dense?: boolean;
      /** many short rows: set in two columns beside each other */
      readonly halves?: boolean;
    }
  | { readonly kind: 'heading'; readonly text: string }
  /** one sentence with its sign, and what goes with it */
  | { readonly kind: 'verdict'; readonly shape: VerdictShape; readonly headline: string; readonly about: readonly string[] }
  /** a list with a sign before each line */
  | { readonly kind: 'signs'; readonly sign: 'done' | 'to-do'; readonly items: readonly string[] }
  /** short things beside each other */
  | { readonly kind: 'columns'; readonly columns: readonly (readonly Block[])[] }
  | { readonly kind: 'card'; readonly card: CardTable }
  | { readonly kind: 'air-curve'; readonly picture: AirCurvePicture }
  | {
      readonly kind: 'geometry';
      readonly side: Picture;
      readonly front: Picture;
      readonly sideLabel: string;
      readonly frontLabel: string;
    }
  /** photos beside each other, each with its line; `url` holds the picture itself */
  | { readonly kind: 'photos'; readonly photos: readonly { readonly url: string; readonly caption: string }[] }
  | { readonly kind: 'trend'; readonly picture: TrendPicture };

export type Section = { readonly title: string; readonly blocks: readonly Block[] };

/** The page that is handed to the owner. */
export type OwnerPage = Section & { readonly about: string; readonly side: readonly string[] };

export type PageOne = {
  readonly title: string;
  readonly visitLine: string;
  readonly side: readonly string[];
  readonly verdict: { readonly shape: VerdictShape; readonly headline: string; readonly about: string };
  /** of a burner that was left off: stands instead of curve, setting, saving and loss terms */
  readonly notSafe: NotSafe | undefined;
  readonly card: CardTable;
  readonly curveTitle: string;
  readonly curve: AirCurvePicture | undefined;
  readonly curveNote: string | undefined;
  readonly setting: readonly { readonly name: string; readonly was: string; readonly left: string }[];
  /** electrodes, nozzle and head in one line */
  readonly geometry: string | undefined;
  readonly saving: { readonly figure: FigureText | undefined; readonly text: string; readonly more: string | undefined };
  readonly terms: { readonly columns: readonly Fact[]; readonly bar: LossBarPicture } | undefined;
  readonly termsNote: string;
  readonly signature: Signature;
};

export type Signature = {
  readonly technician: string;
  readonly time: string;
  /** 'Not signed yet', 'Signed in Flueside', ... */
  readonly state: string;
  readonly hash: string | undefined;
};

export type ReportModel = {
  readonly fileStem: string;
  readonly documentTitle: string;
  /** words in the gap of the tape at head and foot; undefined on a true record */
  readonly tape: string | undefined;
  readonly foot: { readonly cautions: string; readonly run: string };
  readonly first: PageOne;
  readonly owner: OwnerPage;
  readonly record: readonly Section[];
  /** what is printed only on request: every edit, every caution that was acknowledged */
  readonly annex: Section;
  readonly label: BurnerLabel;
};

/** The card that hangs at the burner. */
export type BurnerLabel = {
  readonly title: string;
  readonly about: string;
  readonly day: string;
  readonly rows: readonly { readonly name: string; readonly value: string; readonly unit: string }[];
  readonly due: { readonly title: string; readonly text: string };
  readonly foot: readonly string[];
  readonly side: readonly string[];
  /** 'Do not run', 'Training', ...; undefined on the card of a burner left running */
  readonly warning: string | undefined;
};
