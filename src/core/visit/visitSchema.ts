import * as z from 'zod/mini';
import { changeSchema, countSchema } from './countSchema.ts';
import { day, id, instant, position, quantity, wholeCount, words } from './schemaParts.ts';

/** The version this code writes. */
export const VISIT_VERSION = 2;
export const VISIT_SCHEMA = `rowledger/visit@${VISIT_VERSION}` as const;

const person = z.strictObject({ id, name: words, role: z.optional(words) });
const farm = z.strictObject({ id, name: words, region: z.optional(words) });
const field = z.strictObject({
  id,
  name: words,
  area: z.optional(quantity('area')),
  outline: z.optional(z.array(position).check(z.minLength(3))),
  insured: z.optional(z.boolean()),
});

const planting = z.strictObject({
  id,
  plantedOn: day,
  /** Market class as the trade names it: navy, black, pinto, great northern, kidney, cranberry, pink, small red, ... */
  marketClass: words,
  growthHabit: z.optional(z.enum(['I', 'II', 'III'])),
  variety: z.optional(words),
  rowWidth: z.optional(quantity('length')),
  rowUnits: z.optional(z.int().check(z.minimum(1), z.maximum(96))),
  seedDrop: z.optional(quantity('density')),
  seedSpacing: z.optional(quantity('length')),
  depth: z.optional(quantity('length')),
  germination: z.optional(quantity('share')),
  /** The grower's own target; without it the table of targets answers. */
  target: z.optional(quantity('density')),
  /** Which table of targets to ask, by the name of its set. */
  targetSet: z.optional(words),
});

const zone = z.strictObject({ id, name: words, area: quantity('area') });

const spot = z.strictObject({
  id,
  zoneId: z.optional(id),
  countedAt: z.optional(instant),
  by: z.optional(id),
  position: z.optional(position),
  counts: z.array(countSchema).check(z.minLength(1)),
  note: z.optional(words),
});

const earlierCount = z.strictObject({ id, on: day, population: quantity('density'), note: z.optional(words) });

const correction = z.strictObject({
  id,
  at: instant,
  by: id,
  countId: id,
  change: changeSchema,
  why: z.optional(words),
});

const damage = z.strictObject({
  id,
  hazard: z.enum(['wind', 'hail', 'frost', 'sand', 'feeding', 'flooding', 'herbicide', 'crust', 'other']),
  happenedOn: day,
  zoneId: z.optional(id),
  stage: z.optional(z.strictObject({ code: words, convention: z.enum(['trifoliolate', 'node']) })),
  /** Plants looked at one by one, by growing point. */
  plants: z.optional(
    z.strictObject({ growing: wholeCount, budsAlive: wholeCount, doubtful: wholeCount, dead: wholeCount }),
  ),
  /** Single plants by what was seen on them; the rules tell what becomes of each. */
  seen: z.optional(
    z.array(
      z.strictObject({
        id,
        number: wholeCount,
        cut: z.optional(z.enum(['none', 'below cotyledons', 'above cotyledons', 'above unifoliates'])),
        cotyledons: z.optional(z.union([z.literal(0), z.literal(1), z.literal(2)])),
        growingPoint: z.optional(z.enum(['green', 'gone', 'brown'])),
        axillaryBuds: z.optional(z.enum(['green', 'none'])),
        stem: z.optional(z.enum(['sound', 'lightly bruised', 'heavily bruised and folded'])),
      }),
    ),
  ),
  leafLost: z.optional(quantity('share')),
  minimum: z.optional(quantity('temperature')),
  hoursBelowMinus2C: z.optional(z.number().check(z.minimum(0))),
  note: z.optional(words),
});

const digCheck = z.strictObject({
  id,
  on: day,
  zoneId: z.optional(id),
  /** Seeds found, or missed where one should lie, in the bare row dug. */
  sprouting: wholeCount,
  hard: wholeCount,
  rotted: wholeCount,
  eaten: wholeCount,
  notFound: wholeCount,
});

const weatherDay = z.strictObject({
  on: day,
  minimum: quantity('temperature'),
  maximum: quantity('temperature'),
  medium: z.enum(['soil', 'air']),
  rain: z.optional(quantity('length')),
});

const weather = z.strictObject({
  days: z.array(weatherDay),
  crust: z.optional(z.enum(['none', 'soft', 'hard'])),
  rainExpected: z.optional(z.boolean()),
});

/** Things met while walking that have a threshold of their own. */
const scouting = z.strictObject({
  cutworm: z.optional(
    z.strictObject({ larvae: wholeCount, rowLength: quantity('length'), plantsCut: z.optional(quantity('share')) }),
  ),
  /** Plants buried or torn out by the rotary hoe. */
  hoeLoss: z.optional(quantity('share')),
  salinityDsPerM: z.optional(z.number().check(z.minimum(0), z.maximum(100))),
});

const impression = z.strictObject({
  id,
  at: instant,
  by: id,
  leaning: z.enum(['keep', 'wait', 'replant', 'unsure']),
  words: z.optional(words),
});

const money = quantity('money per area');
const economics = z.strictObject({
  currency: words,
  fullYield: quantity('yield'),
  price: quantity('price'),
  seed: money,
  planting: money,
  termination: z.optional(money),
  extraInputs: z.optional(money),
  drying: z.optional(money),
  credit: z.optional(money),
  replantOn: z.optional(day),
  lastReplantOn: z.optional(day),
  /** Last day of full insurance cover for planting. */
  insuredUntil: z.optional(day),
  noLossUntil: z.optional(day),
  lossPerDay: z.optional(quantity('share')),
});

const spraying = z.strictObject({
  id,
  at: instant,
  product: words,
  reentryHours: z.optional(z.number().check(z.minimum(0))),
});

const decision = z.strictObject({
  id,
  at: instant,
  by: id,
  choice: z.enum(['keep', 'wait', 'replant', 'recount']),
  words: z.optional(words),
  /** The verdict that was on the page when it was taken. */
  verdictShown: z.optional(words),
});

/** One visit to one field, with all that was seen, typed and decided. Lists only ever grow. */
export const visitSchema = z.strictObject({
  schema: z.literal(VISIT_SCHEMA),
  id,
  visitedOn: day,
  units: z.enum(['imperial', 'metric']),
  people: z.array(person),
  farm,
  field,
  season: z.int().check(z.minimum(1900), z.maximum(2200)),
  planting,
  zones: z.optional(z.array(zone)),
  spots: z.array(spot),
  earlierCounts: z.optional(z.array(earlierCount)),
  corrections: z.optional(z.array(correction)),
  damage: z.optional(z.array(damage)),
  digChecks: z.optional(z.array(digCheck)),
  weather: z.optional(weather),
  signs: z.optional(z.strictObject({ seen: z.array(words), notSeen: z.array(words) })),
  scouting: z.optional(scouting),
  /** What people thought before any number was shown, one record each. */
  impressions: z.optional(z.array(impression)),
  economics: z.optional(economics),
  sprayings: z.optional(z.array(spraying)),
  decisions: z.optional(z.array(decision)),
});

export type VisitDocument = z.infer<typeof visitSchema>;
export type VisitSpot = z.infer<typeof spot>;
export type VisitDamage = z.infer<typeof damage>;
