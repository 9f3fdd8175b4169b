import type { Setting } from '../../../shared/measurement/mark.ts';
import { formatPosition } from '../../format/quantity.ts';

/** 'shutter 4.75, band 3' */
export const settingWords = (setting: Setting | undefined, between = ', '): string =>
  (setting?.positions ?? []).map(({ name, value }) => `${name.toLowerCase()} ${formatPosition(value)}`).join(between);
