export type SpeedReport = (name: string, value: number, unit: string, note?: string) => void;
