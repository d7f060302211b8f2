import * as z from 'zod/mini';

const chance = z.number();

/** How a machine's marks are written down to be learned from. */
export const stockSchema = z.strictObject({
  detector: z.strictObject({ name: z.string(), version: z.string() }),
  featureNames: z.array(z.string()),
  marks: z.array(
    z.strictObject({
      id: z.string(),
      kind: z.enum(['plant', 'weed', 'unsure']),
      confidence: chance,
      doubleChance: chance,
      /** As `featureNames` lists them. */
      features: z.array(z.number()),
    }),
  ),
});

/** What the stock detector said of the marks of one photo, before any head, with what a head is told of them. */
export type StockMarks = z.infer<typeof stockSchema>;
