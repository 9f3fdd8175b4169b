import { passedSafety } from '../../helpers/visits/left-off.ts';
import { describe, expect, it } from 'vitest';
import { makeReport } from '../../../shared/report/make-report.ts';
import { editVisit, type Visit } from '../../../shared/tuning/visit/visit.ts';
import { inputOf, smallVisit, START } from './small-visit.ts';
import { signVisit } from '../../../shared/tuning/visit/sign-visit.ts';
import { reportOf, sectionOf, textOf, tableOf, number } from './report-parts.ts';

describe('the verdict sentence', () => {
  const verdict = (more: Partial<Visit> = {}) => reportOf(more).first.verdict;
  const failed = { test: 'flame-failure', result: 'fail' as const, wallMs: START };

  it('names what fails before what is met', () => {
    // training card: draft -4.98 to -2.49 Pa, here -5; stack at most 450 degF, here 477; O2, CO2, smoke and CO inside
    expect(verdict()).toMatchObject({ shape: 'fail', headline: 'Draft over the fire and Stack, gross fail. Four limits met.' });
  });
  it('puts an open bypass before everything', () => {
    const { headline, shape } = verdict({ bypasses: [{ what: 'limit bridged', openedWallMs: START }], safety: [failed] });
    expect(headline).toMatch(/^Not safe to leave running: bypass in place \(limit bridged\); failed test: flame failure to lockout; /);
    expect(shape).toBe('alarm');
  });
  it('puts a failed control before the limits', () => {
    expect(verdict({ safety: [...passedSafety(START), failed] })).toMatchObject({
      shape: 'alarm',
      headline: 'Not safe to leave running: failed test: flame failure to lockout.',
    });
  });
  it('counts the last result of a repeated test', () => {
    const safety = [...passedSafety(START), failed, { ...failed, result: 'pass' as const, wallMs: START + 1 }];
    expect(verdict({ safety }).headline).not.toContain('Not safe');
  });
  it('does not call a visit good without an as-left reading', () => {
    expect(verdict({ stages: [{ name: '1', asFoundTrialId: 'a' }] })).toMatchObject({
      shape: 'not-known',
      headline: 'The work is not finished: there is no as-left reading.',
    });
  });
  it('does not use an as-left reading from before a change', () => {
    const changes = [{ wallMs: START + 3_600_000, kind: 'nozzle' as const }];
    expect(verdict({ changes }).headline).toBe('The as-left reading is out of date: something was changed after it.');
  });
  it('does not invent limits', () => {
    const visit = smallVisit();
    delete visit.targetCard;
    const { first } = makeReport(inputOf(visit));
    expect(first.verdict.headline).toBe('Read as found and as left; no limits were chosen.');
    expect(first.card.rows.every(({ limit, verdict: one }) => limit === undefined && one === undefined)).toBe(true);
  });
  it('is not safe while safety tests are open', () => {
    expect(verdict({ safety: [] }).about).toContain('Safety run-through: not done.');
    expect(verdict({ safety: [] })).toMatchObject({ shape: 'alarm', headline: 'Not safe to leave running: 11 safety tests not done.' });
  });
});

describe('the record', () => {
  it('adds the uncertainty budget up to what stands on page 1', () => {
    const report = reportOf();
    const [said] = sectionOf(report, 'Where the uncertainty');
    // 'fuel composition 0.144 (69 %); ...'
    const rows = [...(said?.kind === 'text' ? said.text : '').matchAll(/ (\d\.\d{3}) \((\d+)\s%\)/g)];
    expect(rows.length).toBeGreaterThanOrEqual(3);
    const combined = 2 * Math.hypot(...rows.map(([, u]) => number(u)));
    const half = number(report.first.terms?.columns.at(-1)?.label.split('±')[1]);
    expect(Math.abs(combined - half)).toBeLessThanOrEqual(0.06);
    const shares = rows.reduce((sum, [, , share]) => sum + number(share), 0);
    expect(Math.abs(shares - 100)).toBeLessThanOrEqual(2);
  });

  it('prints the card with edition, source and rule', () => {
    const blocks = textOf(sectionOf(reportOf(), 'Target card'));
    for (const words of ['Edition November 2026', 'NORA, Oilheat Technicians Manual', 'Simple: The value itself', 'retention head'])
      expect(blocks).toContain(words);
  });

  it('keeps every smoke spot, the flawed ones with their flaw', () => {
    const visit = smallVisit({ smokeRule: 'mean-to-half' });
    const [first] = visit.trials;
    if (first === undefined) throw new Error('no trial');
    visit.trials[0] = { ...first, smoke: { spots: [{ number: 1 }, { number: 3, flaw: 'wet' }, { number: 0, oilTrace: true }] } };
    delete visit.targetCard;
    expect(tableOf(makeReport(inputOf(visit)), 'Trials')[0]).toContain('1, 3 wet, 0 oil; by the rule ½');
  });

  it('says with which CO2max the CO2 was computed', () => {
    // 15.494 % for No. 2 oil, recomputed by an independent program: tests/golden/tables/fuels.json
    const note = (more: Partial<Visit>): string => textOf(sectionOf(reportOf(more), 'Trials').filter(({ kind }) => kind === 'text'));
    expect(note({})).toContain('computed from O2 with a CO2max of 15.5 %, from the fuel; CO dry');
    expect(note({ fuelId: undefined })).toContain('computed from O2; CO dry');
  });

  it('lists what limits the trust', () => {
    const blocks = textOf(sectionOf(reportOf({ airTypedC: 21, zeroed: { wallMs: START, place: 'indoors' } }), 'Instrument'));
    for (const words of ['air temperature was typed', 'zeroed indoors', 'no bench test', 'not on this computer', 'rests on one spot'])
      expect(blocks).toContain(words);
  });

  it('says so when a run file or the record is not the one that was signed', () => {
    const visit = smallVisit({ runs: [{ id: 'run-1', startWallMs: START, source: 'port', hash: 'aa' }] });
    const run = {
      runId: 'run-1',
      startWallMs: START,
      zoneMinutes: 60,
      source: 'port' as const,
      hash: 'bb',
      endMs: 1,
      lines: 1234,
      rejected: 5,
      series: [],
      marks: [],
      readings: [],
      gaps: [],
      excluded: [],
      settled: [],
    };
    const report = makeReport(inputOf(visit, { runs: [run], signatureHolds: false }));
    expect(textOf(sectionOf(report, 'Instrument'))).not.toContain('another recipe');
    const reread = makeReport(inputOf(visit, { runs: [{ ...run, isReread: true }] }));
    expect(textOf(sectionOf(reread, 'Instrument'))).toContain('lines of a run were read with another recipe');
    // each run file has its row; where there is none, there is no table
    expect(tableOf(report, 'Instrument').map((row) => row.slice(2))).toEqual([['1\u2009234', '5']]);
    expect(() => tableOf(reportOf({ runs: [] }), 'Instrument')).toThrow('no table');
    const blocks = textOf(sectionOf(report, 'Instrument'));
    expect(blocks).toContain('A run file is not the one that was signed');
    expect(blocks).toContain('The record is not the one that was signed');
  });
});

describe('signing', () => {
  it('says in words that it is not signed yet, and never signed for training', () => {
    expect(reportOf().first.signature.state).toBe('Not signed yet');
    expect(reportOf({ kind: 'training', endedWallMs: START }).first.signature.state).toBe('Training: closed without signature');
  });

  it('shows the signed body, with corrections beside it and not in it', () => {
    const signed = signVisit(smallVisit(), { name: 'A. Sample', wallMs: START + 7_200_000, hash: 'ab'.repeat(32) });
    if (!signed.ok) throw new Error('not signed');
    const corrected = editVisit(signed.value, {
      wallMs: START + 8_000_000,
      by: 'A. Sample',
      path: ['annualFuelGal'],
      after: 650,
      reason: 'told wrongly',
    });
    if (!corrected.ok) throw new Error('not corrected');
    const report = makeReport(inputOf(corrected.value));
    expect(report.first.signature.state).toBe('Signed in Flueside. One correction after signing, see the last part.');
    expect(report.first.signature.time).toBe('24 Nov 2026 16:00');
    expect(report.first.saving.more).toMatch(/^At 700\sgallons/);
    const edits = textOf(sectionOf(report, 'Signature'));
    expect(edits).toContain('told wrongly');
    expect(edits).toContain('700');
    expect(edits).toContain('650');
  });
});

describe('the tape', () => {
  it.each([
    ['simulated', 'Simulated data, not a measurement'],
    ['replay', 'Replayed data, not a measurement of today'],
    ['typed', 'Figures typed from a display'],
  ] as const)('says %s', (source, words) => {
    expect(reportOf({ runs: [{ id: 'run-1', startWallMs: START, source }] }).tape).toContain(words);
  });
  it('is absent from a true record', () => {
    expect(reportOf().tape).toBeUndefined();
  });
});

describe('the owner’s page', () => {
  // draft over fire -5 Pa against -0.02 to -0.01 in w.c., stack 477 against 330 to 450 degF of the example card
  it('names a limit that is not met, however well the safety tests went', () => {
    const headline = expect.stringContaining('Two limits are not met: draft over the fire and stack, gross.');
    expect(reportOf().owner.blocks[0]).toMatchObject({ shape: 'fail', headline });
    const card = smallVisit().targetCard;
    const met = card && { ...card, lines: card.lines.filter(({ quantity }) => quantity === 'o2Percent') };
    expect(textOf(reportOf({ targetCard: met }).owner)).not.toContain('not met');
  });
  it('says no, plainly, when something is bypassed or has failed', () => {
    const page = textOf(reportOf({ bypasses: [{ what: 'limit bridged', openedWallMs: START }] }).owner);
    expect(reportOf({ bypasses: [{ what: 'limit bridged', openedWallMs: START }] }).owner.blocks[0]).toMatchObject({
      shape: 'alarm',
      headline: 'Not safe to leave running: bypass in place (limit bridged).',
    });
    expect(page).toContain('Do not run the burner until this is put right.');
  });
  it('never says safe when nothing was tested', () => {
    const page = textOf(reportOf({ safety: [] }).owner);
    expect(page).toContain('The safety tests were not made on this visit.');
    expect(page).not.toContain('made and passed');
  });
  it('holds the one-press rule and the alarm', () => {
    const page = textOf(reportOf().owner);
    expect(page).toContain('Press the reset button once, not more');
    expect(page).toContain('carbon monoxide alarm');
  });
});
