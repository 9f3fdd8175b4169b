import type { Setting } from '../../../shared/measurement/mark.ts';
import { visitWords } from '../../../shared/words/visit/visit-thread.ts';
import { formatPosition } from '../../../shared/format/quantity.ts';

/** 'shutter 4.75, band 3'; a burner's first stage goes without saying */
export const settingWords = (setting: Setting | undefined, between = ', '): string =>
  [
    ...(setting === undefined || setting.stage === '1' ? [] : [visitWords.stageShort(setting.stage)]),
    ...(setting?.positions ?? []).map(({ name, value }) => `${name.toLowerCase()} ${formatPosition(value)}`),
  ].join(between);
