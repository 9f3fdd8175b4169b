/** Fields on the screen whose text cannot be read, and so is not saved: whoever holds them says so before anything else. */
import { createContext, useCallback, useContext, useEffect, useId, useState } from 'react';

type Report = (field: string, isWrong: boolean) => void;
export const WrongFields = createContext<Report>(() => undefined);

/** For the holder. @returns how many there are now, and what their fields tell it by */
export function useWrongFields(): { count: number; report: Report } {
  const [wrong, setWrong] = useState<ReadonlySet<string>>(new Set());
  const report = useCallback<Report>((field, isWrong) => {
    setWrong((before) => {
      if (before.has(field) === isWrong) return before;
      return isWrong ? new Set([...before, field]) : new Set([...before].filter((one) => one !== field));
    });
  }, []);
  return { count: wrong.size, report };
}

/** For a field: it counts while it is on the screen and wrong. */
export function useReportWrong(isWrong: boolean): void {
  const field = useId();
  const report = useContext(WrongFields);
  useEffect(() => {
    if (!isWrong) return;
    report(field, true);
    return () => report(field, false);
  }, [field, isWrong, report]);
}
