import * as z from 'zod/mini';
import { inOneLine } from '../faults/outcome.ts';
import { isDay } from '../outlook/calendar.ts';
import type { Dimension } from './quantity.ts';
import { parseQuantity } from './quantity.ts';

/** A stable name within the document (and, for the document itself, among all documents). */
export const id = z.string().check(z.minLength(1), z.maxLength(120));

export const words = z.string().check(z.maxLength(2000));

export const day = z.string().check(
  z.refine((text) => isDay(text), {
    error: (issue) => `found "${issue.input}", wanted a calendar day as YYYY-MM-DD`,
  }),
);

/** A moment with its offset, as the adapter passed it in. */
export const instant = z.iso.datetime({ offset: true });

/** A quantity as a person writes it, unit included; kept as written so that nothing typed is lost. */
export function quantity(dimension: Dimension) {
  return z.string().check(
    z.refine((text) => parseQuantity(text, dimension).ok, {
      error: (issue) => {
        const read = parseQuantity(String(issue.input), dimension);
        return read.ok ? 'unreadable' : inOneLine(read);
      },
    }),
  );
}

export const wholeCount = z.int().check(z.minimum(0), z.maximum(1_000_000));

export const position = z.tuple([
  z.number().check(z.minimum(-90), z.maximum(90)),
  z.number().check(z.minimum(-180), z.maximum(180)),
]);
