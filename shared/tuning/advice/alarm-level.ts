import type { Alarm } from './alarms.ts';

/** An alarm, and no notice: it is heard, and it takes the place of advice. */
export const isAlarming = ({ level }: Alarm): boolean => level !== 'notice';
