/**
 * Median-of-three test with one sample of delay: a value that stands out from both neighbours by far more than the noise, while the
 * neighbours agree, is replaced by their mean. A step is not a spike: there the neighbours differ.
 */
export function createDespike(push: (timeMs: number, value: number) => void) {
  // fields of one object are written in place: a variable of the closure would be a new number on the heap with every sample
  const at = { before: 0.5, heldTime: 0.5, held: 0.5, scale: 0.5, count: 0, hasBefore: false, hasHeld: false };
  at.scale = 0;
  return {
    add(timeMs: number, value: number, quantum: number): void {
      if (!at.hasHeld) {
        at.heldTime = timeMs;
        at.held = value;
        at.hasHeld = true;
        return;
      }
      const held = at.held;
      let out = held;
      if (at.hasBefore) {
        const before = at.before;
        const apart = Math.abs(held - (before + value) / 2);
        const neighbours = Math.abs(before - value);
        if (at.count > 4 && apart > 6 * at.scale + 2.1 * quantum && neighbours < 0.3 * apart) out = (before + value) / 2;
        else {
          at.count = Math.min(at.count + 1, 30);
          at.scale += (Math.min(apart, 3 * at.scale + quantum + (at.count < 5 ? apart : 0)) - at.scale) / at.count;
        }
      }
      push(at.heldTime, out);
      at.before = out;
      at.hasBefore = true;
      at.heldTime = timeMs;
      at.held = value;
    },
    /** Lets the held sample go (the block is about to close and the next sample is far). */
    flush(): void {
      if (at.hasHeld) push(at.heldTime, at.held);
      at.hasBefore = at.hasHeld;
      at.before = at.held;
      at.hasHeld = false;
    },
    reset(): void {
      at.hasBefore = false;
      at.hasHeld = false;
    },
  };
}
