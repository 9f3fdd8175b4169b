/** Dates and zones as they may stand in any file or message: a figure outside of them is damage, and would blank whatever shows it. */
import { z } from 'zod';

/** Years 1 to 9999, which every date of the language can hold with any zone. */
const EARLIEST_MS = Date.UTC(1970, 0, 1) - 719_162 * 86_400_000;
const LATEST_MS = Date.UTC(9999, 11, 31, 23, 59, 59, 999);

/** Unix time, ms */
export const WallMs = z.number().min(EARLIEST_MS).max(LATEST_MS);
/** minutes east of UTC; no place on Earth is more than 14 hours off, and 18 is what time standards allow */
export const ZoneMinutes = z.number().int().min(-1080).max(1080);
