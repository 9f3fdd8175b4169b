/** A signature while another command of the same test is under way, in every order: one of the two is refused, and nothing stays unsaved. */
import { describe, expect, it } from 'vitest';
import { exampleLimits } from '../../../shared/bench/limits.ts';
import { hashOfTest } from '../../../main/bench/signature.ts';
import { AIR, openBench } from './bench-fixture.ts';

const limits = { ...exampleLimits[1]!, decisionRule: 'simple' as const };

describe('sign while a command is in flight', () => {
  const commands = {
    limits: (bench: Bench, testId: string) => bench.call('bench.limits', { testId, limits }),
    adjust: (bench: Bench, testId: string) => bench.call('bench.adjust', { testId, adjustment: 'zeroed' }),
    close: (bench: Bench, testId: string) => bench.call('bench.close', { testId }),
    repeat: (bench: Bench, testId: string) => bench.call('bench.repeat', { testIds: [testId], stepId: 's1' }),
    sign: (bench: Bench, testId: string) => bench.call('bench.sign', { testId, name: 'C. Tester' }),
  };
  type Bench = Awaited<ReturnType<typeof openBench>>;
  for (const [name, command] of Object.entries(commands))
    for (const isFirst of [true, false])
      for (const turns of [0, 1, 2, 3, 5])
        it(`${name} ${isFirst ? 'before' : 'after'} it, ${turns} turns apart`, async () => {
          const bench = await openBench();
          await bench.press('s1');
          await bench.read(80, AIR);
          await bench.call('bench.skip', { testIds: [...bench.testIds], stepId: 's2', how: 'rest', why: 'noon' });
          const testId = bench.testIds[0]!;
          const wait = async () => {
            for (let i = 0; i < turns; i++) await Promise.resolve();
          };
          const sign = () => bench.call('bench.sign', { testId, name: 'B. Tester' });
          const first = isFirst ? command(bench, testId) : sign();
          await wait();
          const second = isFirst ? sign() : command(bench, testId);
          const answers = (await Promise.all([first, second])).map((answer) => (answer.ok ? 'ok' : answer.error.code));
          await bench.clock.advance(10_000);
          const { signature } = bench.stored();
          // signed is what the disk holds, with its hash; an answer that says so is true
          if (signature !== undefined) expect(signature.hash).toBe(hashOfTest(bench.stored()));
          expect([...bench.alarms.keys()]).toEqual([]);
          // a signature that was refused is none, one that was granted is there
          const signedAs = [isFirst ? 1 : 0, ...(name === 'sign' ? [isFirst ? 0 : 1] : [])].some((at) => answers[at] === 'ok');
          expect(signature !== undefined).toBe(signedAs);
        });
});
