/**
 * Two-sided CUSUM on standardised innovations. `push` says whether the channel has left what its bank expects, and how many
 * blocks ago that began: the blocks in an unbroken row that pointed the same way. (The CUSUM's own last zero lies too far back:
 * a change put too early is refuted by the calm blocks that follow it.)
 *
 * @source Page, E. S., Biometrika 41 (1954) 100-115; drift and limit are ours, tuned on generated streams
 */
export function createChangeAlarm({ drift, limit, clip }: { drift: number; limit: number; clip: number }) {
  const sides = [
    { sign: 1, sum: 0, row: 0 },
    { sign: -1, sum: 0, row: 0 },
  ];
  return {
    /** @returns 0, or the number of blocks since the change began (this one included) */
    push(z: number): number {
      let since = 0;
      for (const side of sides) {
        const c = side.sign * Math.max(-clip, Math.min(clip, z)) - drift;
        side.sum = Math.max(0, side.sum + c);
        side.row = c > 0 ? side.row + 1 : 0;
        if (side.sum > limit) since = Math.max(1, side.row);
      }
      return since;
    },
    /** 0 calm .. 1 alarm */
    pressure: (): number => Math.max(sides[0]!.sum, sides[1]!.sum) / limit,
    reset(): void {
      for (const side of sides) {
        side.sum = 0;
        side.row = 0;
      }
    },
  };
}
