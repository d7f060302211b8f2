import { cautions } from '../decision/cautions.ts';
import { decide } from '../decision/decide.ts';
import type { DecisionFacts, Phrasing } from '../decision/decisionFacts.ts';
import { readStandRules, STAND_FLOORS, sayStandRule } from '../decision/standRules.ts';
import { planterLessons } from '../diagnosis/planterLessons.ts';
import { rankCauses } from '../diagnosis/rankCauses.ts';
import { isSignId } from '../diagnosis/signs.ts';
import { daysBetween } from '../outlook/calendar.ts';
import type { EmergenceOutlook } from '../outlook/emergenceOutlook.ts';
import type { Establishment } from '../targets/establishment.ts';
import { establishment } from '../targets/establishment.ts';
import type { GrowthHabit } from '../targets/growthHabit.ts';
import { seedNeeded } from '../targets/seedNeeded.ts';
import type { TargetRow } from '../targets/targetRow.ts';
import { lastReplantDay } from '../yield/dateFactor.ts';
import type { YieldPotential } from '../yield/yieldPotential.ts';
import { yieldPotential } from '../yield/yieldPotential.ts';
import { assessDamage, damageDoubt, damageHolds, viableStand } from './assessDamage.ts';
import { assessMoney, replantDay } from './assessMoney.ts';
import type { Assessment, EvennessNumbers, StandNumbers } from './assessment.ts';
import { assessOutlook } from './assessOutlook.ts';
import { assessPattern, assessPrecision, type FieldMoments, fieldMoments } from './assessPrecision.ts';
import { assessScouting } from './assessScouting.ts';
import { classTraits } from './classTraits.ts';
import { explain } from './explain.ts';
import { fieldNumbers } from './fieldNumbers.ts';
import { phrasingFor } from './phrasing.ts';
import { quantityIn } from './quantity.ts';
import { rowEvenness } from './rowEvenness.ts';
import { type SpotCounts, spotCounts } from './spotCounts.ts';
import { targetFor } from './targetFor.ts';
import { viableField } from './viableField.ts';
import type { VisitDocument } from './visitSchema.ts';

/** What the surroundings pass in; everything has a default, so that a document alone gives one answer everywhere. */
export interface AssessContext {
  /** The table of targets with an organisation's changes laid over it; default: the table as it is. */
  readonly targets?: readonly TargetRow[];
  /** Fields counted before, for Taylor's power law; default: none. */
  readonly before?: readonly FieldMoments[];
  /** Seed of the Monte Carlo draws. */
  readonly seed?: number;
  /** The moment of asking, ISO 8601, for re-entry intervals that still run; default: the day of the visit at its end. */
  readonly now?: string;
}

const DEFAULT_SEED = 20_260_601;

/**
 * The whole engine over one visit: counts to a stand with its interval, evenness, damage, what is still to come, yield,
 * money, the verdict with its reasons and cautions, and the likely causes. The same document and seed give the same
 * assessment. Give it a document from `readVisit`; what is missing is said, never made up.
 */
export function assessVisit(visit: VisitDocument, context: AssessContext = {}): Assessment {
  const { planting, economics } = visit;
  const traits = classTraits(planting.marketClass);
  const habit = planting.growthHabit ?? traits.habit;
  const currency = economics?.currency ?? null;
  const rowWidthM = quantityIn(planting.rowWidth, 'length');
  const target = targetFor(visit, habit, context.targets);
  const floorPerM2 = STAND_FLOORS[habit].shareOfTarget * target.perM2;
  const seed = context.seed ?? DEFAULT_SEED;
  const lastReplant = lastReplantDay(visit.visitedOn.slice(0, 4), economics?.lastReplantOn ?? null);

  // Counts to stands, then less what is hurt.
  const counted = spotCounts(visit);
  const field = fieldNumbers(visit, counted, floorPerM2);
  const damage = assessDamage(visit);
  const viable = viableField(field, damage);
  const evenness = rowEvenness(counted, quantityIn(planting.seedSpacing, 'length'), planting.rowUnits ?? null);

  // What is still to come, and what it all yields.
  const outlook = assessOutlook(visit, viable?.perM2 ?? null, traits.seed);
  const keep = potential(viable, outlook, target.perM2, habit, evenness);
  const money = assessMoney(visit, habit, keep, target.perM2, lastReplant.day, seed);
  const zones = field.zones.map((zone) => {
    const stand = viableStand(zone.stand, damage, zone.name);
    const yields = potential(stand, null, target.perM2, habit, null);
    const zoneMoney = assessMoney(visit, habit, yields, target.perM2, lastReplant.day, seed);
    return { ...zone, viable: stand, yieldPotential: yields, money: zoneMoney };
  });

  const standRules = viable === null ? [] : readStandRules(viable.perM2 / target.perM2, habit);
  const phrasing = phrasingFor(visit.units, currency);
  const facts: DecisionFacts = {
    visitOn: visit.visitedOn,
    stand: viable,
    spots: field.stand?.spots ?? 0,
    targetPerM2: target.perM2,
    habit,
    moreSpots: field.moreSpots,
    doubt: damageDoubt(visit.visitedOn, field.stand, viable, damage, floorPerM2),
    holds: damageHolds(damage),
    outlook: outlook === null ? null : { ...outlook, says: outlookSays(outlook, phrasing) },
    yieldShare: keep?.yieldShare ?? null,
    money,
    lastReplant,
    zones: zones.map((zone) => ({ ...zone, stand: zone.viable })),
    remarks: [
      ...damage.flatMap((entry) =>
        entry.viable === null
          ? []
          : [
              {
                says: `${entry.hazard}: ${Math.round(entry.viable.value * 100)} % of the plants judged will live`,
                source: entry.viable.source,
              },
            ],
      ),
      ...standRules.map((reading) => ({
        says: sayStandRule(reading),
        source: reading.rule.source,
      })),
    ],
  };
  const decision = decide(facts, phrasing);

  const stood = establishmentOf(visit, field.stand);
  const made = {
    schema: 'rowledger/assessment@1' as const,
    visit: {
      id: visit.id,
      farm: visit.farm.name,
      field: visit.field.name,
      areaM2: quantityIn(visit.field.area, 'area'),
      marketClass: planting.marketClass,
      habit,
      rowWidthM,
      plantedOn: planting.plantedOn,
      visitedOn: visit.visitedOn,
      daysAfterPlanting: daysBetween(planting.plantedOn, visit.visitedOn),
      units: visit.units,
      currency,
    },
    impressions: (visit.impressions ?? []).map((impression) => ({
      who: visit.people.find((person) => person.id === impression.by)?.name ?? impression.by,
      at: impression.at,
      leaning: impression.leaning,
      words: impression.words ?? null,
    })),
    spots: field.spots,
    stand: field.stand,
    viable,
    precision: assessPrecision(
      field.sampled,
      fieldMoments(counted),
      quantityIn(visit.field.area, 'area'),
      context.before ?? [],
    ),
    pattern: assessPattern(counted),
    moreSpots: field.moreSpots,
    stopping: field.stopping,
    target,
    floorPerM2,
    seed: seedNeeded(target.perM2, planting.marketClass),
    establishment: stood?.share ?? null,
    zones,
    evenness,
    damage,
    outlook,
    standRules,
    yieldPotential: keep,
    money,
    decision,
    cautions: cautions({
      verdict: decision.verdict.kind,
      insured: visit.field.insured ?? null,
      damaged: damage.length > 0,
      daysPastInsurance: daysPastInsurance(visit),
      sprayed: visit.sprayings === undefined ? null : visit.sprayings.length > 0,
      reentryHoursLeft: reentryHoursLeft(visit, context.now ?? `${visit.visitedOn}T23:59:59Z`),
    }),
    diagnosis: rankCauses({
      seen: (visit.signs?.seen ?? []).filter(isSignId),
      notSeen: (visit.signs?.notSeen ?? []).filter(isSignId),
    }),
    scouting: assessScouting(visit),
    lessons: planterLessons({
      missShare: evenness?.missShare ?? null,
      multiplesShare: evenness?.multiplesShare ?? null,
      precision: evenness?.precision ?? null,
      // Seed still on its way, or plants lost since, are no fault of the planter.
      establishment: outlook?.stillComing === true || damage.length > 0 ? null : (stood?.share ?? null),
      depthM: quantityIn(planting.depth, 'length'),
      rowUnitsDiffer: evenness?.pattern == null ? null : evenness.pattern.startsWith('row units differ'),
    }),
    photos: photosOf(counted),
    warnings: [
      ...target.warnings,
      ...field.warnings,
      ...(stood?.reasons ?? []),
      ...warningsOf(visit, rowWidthM, replantDay(visit)),
    ],
  };
  return { ...made, explained: explain(made) };
}

function photosOf(counted: readonly SpotCounts[]): Assessment['photos'] {
  const photos: Assessment['photos'][number][] = [];
  for (const { spot, corrected } of counted) {
    for (const { count } of corrected) {
      if (count.kind !== 'photo') continue;
      const { file, sha256 } = count.result.photo;
      photos.push({ file, sha256, spot: spot.id });
    }
  }
  return photos;
}

/** Yield of the stand as it will be; null where no interval can be told. */
function potential(
  stand: StandNumbers | null,
  outlook: EmergenceOutlook | null,
  targetPerM2: number,
  habit: GrowthHabit,
  evenness: EvennessNumbers | null,
): YieldPotential | null {
  if (stand === null || stand.low === null || stand.high === null) return null;
  const coming = outlook?.stillComing === true ? outlook.toComePerM2 : { low: 0, high: 0 };
  return yieldPotential({
    standShare: { low: (stand.low + coming.low) / targetPerM2, high: (stand.high + coming.high) / targetPerM2 },
    habit,
    gapShare: evenness?.gapShare ?? null,
    spacingCv: evenness?.spacingCv ?? null,
  });
}

function outlookSays(outlook: EmergenceOutlook, phrasing: Phrasing): string {
  const { middle, low, high } = outlook.finalPerM2;
  const by = {
    'dig check': `dig check of ${outlook.dig?.seedsDug ?? 0} seeds`,
    'emergence curve': 'emergence curve',
    temperatures: 'temperatures',
    'days since planting': 'days since planting',
  }[outlook.basis];
  return outlook.stillComing
    ? `more to come by the ${by}: ${phrasing.plants(middle)} in the end (${phrasing.plantsRange(low, high)})`
    : `little more to come by the ${by}`;
}

function establishmentOf(visit: VisitDocument, stand: StandNumbers | null): Establishment | null {
  const drop = quantityIn(visit.planting.seedDrop, 'density');
  if (stand === null || drop === null) return null;
  const made = establishment(stand.perM2, drop);
  return made.ok ? made.value : null;
}

function daysPastInsurance(visit: VisitDocument): number | null {
  const until = visit.economics?.insuredUntil;
  return until === undefined ? null : Math.max(0, daysBetween(until, replantDay(visit)));
}

function reentryHoursLeft(visit: VisitDocument, now: string): number | null {
  const left = (visit.sprayings ?? []).flatMap((spraying) =>
    spraying.reentryHours === undefined
      ? []
      : [spraying.reentryHours - (Date.parse(now) - Date.parse(spraying.at)) / 3_600_000],
  );
  return left.length === 0 ? null : Math.max(...left);
}

function warningsOf(visit: VisitDocument, rowWidthM: number | null, replantOn: string): readonly string[] {
  const drop = quantityIn(visit.planting.seedDrop, 'density');
  return [
    ...(rowWidthM === null ? ['no row width: row and photo counts cannot be used'] : []),
    ...(drop === 0 ? ['a seed drop of 0 tells nothing'] : []),
    ...(visit.economics !== undefined && replantOn < visit.visitedOn
      ? ['the replanting day lies before the visit']
      : []),
    ...((visit.impressions ?? []).length === 0 ? ['no first impression was recorded before the number was shown'] : []),
  ];
}
