/** Draft in the units that gauges carry. Inside: Pa relative to the room, suction negative. */
import { PA_PER_IN_WC, PA_PER_MBAR, PA_PER_MM_WC } from '../units/convert.ts';

export const draftUnits = { Pa: 1, 'in w.c.': PA_PER_IN_WC, 'mm w.c.': PA_PER_MM_WC, hPa: PA_PER_MBAR } as const;
export type DraftUnit = keyof typeof draftUnits;

export const draftToPa = (value: number, unit: DraftUnit): number => value * draftUnits[unit];
export const draftFromPa = (pa: number, unit: DraftUnit): number => pa / draftUnits[unit];
