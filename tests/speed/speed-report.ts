/** @param repeats how often it was measured: the value is the median where that is more than once */
export type SpeedReport = (name: string, value: number, unit: string, note?: string, repeats?: number) => void;
