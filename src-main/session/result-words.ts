/** Words that stand in several parts of a result. */
import { z } from 'zod';
import { sentenceOf } from '../../shared-math/notes/english.ts';
import type { Note } from '../../shared-math/notes/notes.ts';
import { PATTERN_FREEDOMS } from '../../shared-math/pattern/pattern-motion.ts';
import { DISC_ERRORS, ERRORS } from '../../shared-math/pose/error-names.ts';

export const verdict = z.enum(['conforming', 'nonconforming', 'unproven']);
export const errorName = z.enum(ERRORS);
export const discErrorName = z.enum(DISC_ERRORS);
export const hubFreedom = z.enum(PATTERN_FREEDOMS);

/** What a sentence says, as a code with values; one that this version can say in words. */
export const note = z.looseObject({ code: z.string().max(200) }).refine((given) => {
  try {
    return sentenceOf(given as unknown as Note) !== '';
  } catch {
    return false;
  }
}, 'a code that is known, with its values');
