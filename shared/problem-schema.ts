import { z } from 'zod';
import './zod-setup.ts';
import { problemCodes } from './problem.ts';

export const Problem = z.object({ code: z.enum(problemCodes), detail: z.string().optional() });
