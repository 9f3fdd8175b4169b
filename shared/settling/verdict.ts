/**
 * What the offers say of a channel, so that what is shown and what is offered agree: its part of a reading stands or could stand
 * (`settled`), it holds the reading back (`not-yet`), or nothing new (`stay`: settled until it is likely to have left).
 */
export type Verdict = 'settled' | 'not-yet' | 'stay';
