/** What a report is made from. Everything is handed in; nothing here reads a file or a clock. */
import type { Instrument } from '../bench/instrument.ts';
import type { ChannelId } from '../measurement/channel.ts';
import type { Mark, Setting } from '../measurement/mark.ts';
import type { Reading } from '../measurement/state.ts';
import type { UnitSystem } from '../format/quantity.ts';
import type { Columns } from '../series/series.ts';
import type { Stop } from './flame-watch.ts';
import type { Appliance } from '../tuning/visit/appliance.ts';
import type { Visit } from '../tuning/visit/visit.ts';

type Span = { readonly fromMs: number; readonly toMs?: number | undefined };

/** One run of the visit, thinned to what a page can show. Times are ms since the run's start. */
export type ReportRun = {
  readonly runId: string;
  readonly startWallMs: number;
  readonly zoneMinutes: number;
  readonly source: 'port' | 'simulated' | 'replay' | 'typed';
  readonly recipeName?: string | undefined;
  /** its lines were read with another recipe after it had ended */
  readonly isReread?: boolean | undefined;
  /** SHA-256 of the file as it stands now, hex; undefined when there is no file */
  readonly hash?: string | undefined;
  /** where the adjusters stood when the run began */
  readonly startSetting?: Setting | undefined;
  readonly endMs: number;
  readonly lines: number;
  readonly rejected: number;
  readonly series: readonly ({ readonly channel: ChannelId } & Columns)[];
  readonly marks: readonly Mark[];
  readonly readings: readonly Reading[];
  readonly gaps: readonly (Span & { readonly reason: string })[];
  readonly excluded: readonly (Span & { readonly reason: string })[];
  readonly settled: readonly (Span & { readonly channel: string })[];
  /** when the burner stopped and burned again, inferred from O2 */
  readonly stops?: readonly Stop[] | undefined;
};

export type ReportInstrument = {
  readonly instrument: Instrument;
  /** the newest bench test before the visit */
  readonly benchTest?: { readonly wallMs: number; readonly verdict: string } | undefined;
};

export type ReportPhoto = { readonly sha256: string; readonly url?: string | undefined; readonly why?: 'missing' | 'altered' | undefined };

export type ReportInput = {
  /** as stored: a signed visit with its signed body; corrections are read from its edits */
  readonly visit: Visit;
  readonly appliance?: Appliance | undefined;
  readonly instrument?: ReportInstrument | undefined;
  /** runs whose file could be read; a run of the visit without one is named as missing */
  readonly runs: readonly ReportRun[];
  /** photos of the visit by their hash; one without a picture is not on this computer, or no longer what was attached */
  readonly photos?: readonly ReportPhoto[] | undefined;
  readonly appVersion: string;
  /** absent: the units of the visit */
  readonly units?: UnitSystem | undefined;
  /** false when the body no longer gives the hash that was signed */
  readonly signatureHolds?: boolean | undefined;
};
