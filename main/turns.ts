/** One work after the other for the same thing, whatever becomes of the one before; what concerns other things does not wait. */
export type Turns = <T>(id: string, work: () => Promise<T>) => Promise<T>;

export function createTurns(): Turns {
  const last = new Map<string, Promise<void>>();
  return (id, work) => {
    const next = (last.get(id) ?? Promise.resolve()).then(work);
    const ended = next.then(
      () => undefined,
      () => undefined,
    );
    last.set(id, ended);
    void ended.then(() => last.get(id) === ended && last.delete(id));
    return next;
  };
}
