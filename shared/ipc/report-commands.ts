/** The report of a visit, and visits on their way to another computer. */
import { z } from 'zod';
import { Download } from './store-commands.ts';

const id = z.string().min(1).max(100);
const paper = z.enum(['a4', 'letter']);
/** the owner's page by itself, or the card that hangs at the burner; every edit and caution as an annex */
const extras = { part: z.enum(['report', 'owner', 'label']).optional(), annex: z.boolean().optional() };

/** A preview is at this path + its token, of the window's own address, in every host; it has a policy of its own and runs no script. */
export const REPORT_PATH = '/report/';

export const reportCommands = {
  /** the page as it will be printed; its token holds until a few more were asked for */
  'report.preview': { input: z.strictObject({ visitId: id, paper, ...extras }), output: z.object({ token: z.string() }) },
  /** reads the visit's runs and sets its pages once, so that the preview that is asked for soon has only the newest lines to read */
  'report.readAhead': { input: z.strictObject({ visitId: id }), output: z.object({}) },
  'report.make': {
    input: z.strictObject({ visitId: id, paper, form: z.enum(['pdf', 'html', 'csv', 'json']), ...extras }),
    /** `note`: what a person has to know about this file, such as letters without a font */
    output: Download.extend({ note: z.string().optional() }),
  },
  /** the true-size sheet of a visit's geometry, on one page */
  'geometry.sheet': { input: z.strictObject({ visitId: id, paper }), output: Download },
  /** the same for the certificate of a bench test */
  'certificate.preview': { input: z.strictObject({ testId: id, paper }), output: z.object({ token: z.string() }) },
  'certificate.make': { input: z.strictObject({ testId: id, paper, form: z.enum(['pdf', 'html', 'csv', 'json']) }), output: Download },
  /** visits with their appliances and runs, as one file for another computer */
  'visit.export': { input: z.strictObject({ ids: z.array(id).min(1).max(500) }), output: Download },
  /** takes such a file in: nothing is overwritten; what is here already is left out, what differs is kept as a copy */
  'visit.import': {
    input: z.strictObject({ upload: z.string().max(200) }),
    output: z.object({
      added: z.number().int(),
      same: z.number().int(),
      corrected: z.number().int(),
      copies: z.number().int(),
      refused: z.number().int(),
      appliances: z.number().int(),
      instruments: z.number().int(),
      runs: z.number().int(),
    }),
  },
} as const;
