import { SOYBEAN_HALVED_BY_HAIL } from '../damage/defoliation.ts';
import { formatStage, STAGE_SOURCES, stageUnder } from '../damage/growthStage.ts';
import { STAND_FLOORS, sayStandRule } from '../decision/standRules.ts';
import { FLOOR_CONFIDENCE, LEAST_PATCH, MONEY_ODDS, NEAR_THE_FLOOR } from '../decision/thresholds.ts';
import type { EmergenceModel } from '../outlook/cardinalModels.ts';
import { HARRINGTON_MINGES, LATE_TO_MIDDLE, LEAST_SOIL_TO_PLANT, SOYBEAN_GDD_F } from '../outlook/cardinalModels.ts';
import { daysToEmergence } from '../outlook/dailyProgress.ts';
import { STOPPING } from '../sampling/stoppingRule.ts';
import { COMMON_PRACTICE, own, published, publishedWith } from '../sources/source.ts';
import { METRES_PER_INCH } from '../units/conversions.ts';
import { fromPerSquareMetre } from '../units/density.ts';
import { formatNumber } from '../units/formatNumber.ts';
import {
  AFTER_MID_JUNE,
  DRY_BEAN_DATES,
  dateFactor,
  MINNESOTA_SOYBEAN,
  PENN_STATE_SOYBEAN,
  readDateTable,
} from '../yield/dateFactor.ts';
import { COSTLY_GAP } from '../yield/gapPenalty.ts';
import { cornSpacingLossBuPerAcre, nearestSoybeanStand } from '../yield/nearestCrops.ts';
import { HALF_STAND_RULE } from '../yield/responseCurves.ts';
import { ORDINARY_CV } from '../yield/spacingPenalty.ts';
import { DAYS_TO_REPLANT, REPLANT_STAND } from './assessMoney.ts';
import type { Assessment, Explained } from './assessment.ts';
import { USUAL_PRECISION } from './assessPrecision.ts';
import { classTraits } from './classTraits.ts';

/** Every rule, table row and threshold that a finished assessment rests on, each with who says so. */
export function explain(a: Omit<Assessment, 'explained'>): readonly Explained[] {
  return [...standLines(a), ...outlookLines(a), ...damageLines(a), ...yieldLines(a), ...moneyLines(a), ...restLines(a)];
}

type Finished = Omit<Assessment, 'explained'>;

function percent(share: number): string {
  return `${Math.round(share * 100)} %`;
}

function standLines(a: Finished): readonly Explained[] {
  const traits = classTraits(a.visit.marketClass);
  const floor = STAND_FLOORS[a.visit.habit];
  return [
    ...a.target.sources.map((source) => ({ topic: 'Stand', says: `target: ${a.target.says}`, source })),
    {
      topic: 'Stand',
      says: `growth habit ${a.visit.habit}; usual for ${a.visit.marketClass}: ${traits.habit}`,
      source: traits.habitSource,
    },
    {
      topic: 'Stand',
      says: `floor for habit ${a.visit.habit}: ${percent(floor.shareOfTarget)} of the target`,
      source: floor.source,
    },
    {
      topic: 'Stand',
      says: 'above or below the floor: the stopping rule',
      source: FLOOR_CONFIDENCE.source,
    },
    ...(a.stand === null
      ? []
      : [
          {
            topic: 'Stand',
            says: a.stand.method,
            source: { kind: 'definition', of: 'sampling theory, see the method named' } as const,
          },
        ]),
    ...precisionLines(a),
    ...a.standRules.map((reading) => ({
      topic: 'Stand',
      says: sayStandRule(reading),
      source: reading.rule.source,
    })),
    {
      topic: 'Stand',
      says: `at most ${STOPPING.mostSpots} spots are asked for`,
      source: NEAR_THE_FLOOR.source,
    },
    { topic: 'Stand', says: 'a poor patch under 1 acre gets no verdict of its own', source: LEAST_PATCH.source },
  ];
}

function precisionLines(a: Finished): readonly Explained[] {
  const topic = 'Sampling';
  const { precision, pattern } = a;
  const wanted = (spots: number | null) =>
    `${spots ?? 'over a million'} spots for ± ${percent(USUAL_PRECISION)} at 90 %`;
  return [
    ...(precision === null
      ? []
      : [
          {
            topic,
            says: `${wanted(precision.spots)}, by Student's t and a CV of ${percent(precision.cv)} between spots`,
            source: published('entomologySampling'),
          },
        ]),
    ...(precision?.finite == null
      ? []
      : [
          {
            topic,
            says: `${wanted(precision.finite.spots)} of the ${formatNumber(precision.finite.spotsInField, 0)} spots that the field holds; the share counted would narrow the interval to ${(100 * precision.finite.narrowing).toFixed(1)} %, which is not taken off`,
            source: published('finitePilot'),
          },
        ]),
    ...(precision?.taylor == null
      ? []
      : [
          {
            topic,
            says: `${wanted(precision.taylor.spots)}, by Taylor's power law through ${precision.taylor.fields} fields counted before: variance ${precision.taylor.a.toPrecision(2)} x mean^${precision.taylor.b.toFixed(2)}`,
            source: published('taylor1961', 'entomologySampling'),
          },
        ]),
    ...(pattern === null
      ? []
      : [
          {
            topic,
            says: `index of dispersion ${pattern.index.toFixed(2)} of ${pattern.n} equal pieces of row: chi-square ${pattern.chiSquare.toFixed(1)} on ${pattern.degreesOfFreedom} degrees of freedom${pattern.reasons.length > 0 ? `; ${pattern.reasons.join('; ')}` : ''}`,
            source: published('fisher1925'),
          },
        ]),
  ];
}

function outlookLines(a: Finished): readonly Explained[] {
  if (a.outlook === null) return [];
  const topic = 'Still to come';
  const { forecast, curve, dig } = a.outlook;
  return [
    { topic, says: `basis: ${a.outlook.basis}`, source: a.outlook.source },
    ...(forecast?.models ?? []).map((model) => ({
      topic,
      says: `${model.name}: half up in ${daysAt(TYPICAL_SOIL_C, model)} days at ${TYPICAL_SOIL_C} C; base ${model.temperatures.baseC.toFixed(1)} C with its own sum of ${model.thermalSumCd.toFixed(1)} degree-days C`,
      source: model.source,
    })),
    {
      topic,
      says: `the late half: days to 90 % over days to 50 % are ${LATE_TO_MIDDLE.low.toFixed(2)} to ${LATE_TO_MIDDLE.high.toFixed(2)}`,
      source: LATE_TO_MIDDLE.source,
    },
    {
      topic,
      says: `seed size of ${a.visit.marketClass}: ${classTraits(a.visit.marketClass).seed}`,
      source: classTraits(a.visit.marketClass).seedSource,
    },
    { topic, says: `soil fit for planting from ${LEAST_SOIL_TO_PLANT.celsius} C`, source: LEAST_SOIL_TO_PLANT.source },
    ...(curve === null
      ? []
      : [
          {
            topic,
            says: `${curve.shape} curve through ${curve.points} dated counts, half up on day ${curve.t50Days.toFixed(1)}${curve.finalGiven ? ', its end taken from the seed drop' : ''}`,
            source: own('the shape that fits closest of logistic, Hill and Gompertz'),
          },
        ]),
    ...(a.outlook.moments === null
      ? []
      : [
          {
            topic,
            says: `dated counts: mean day ${a.outlook.moments.meanDays.toFixed(1)}, half up on day ${a.outlook.moments.t50CoolbearDays.toFixed(1)}`,
            source: publishedWith('definitions', 'germinationMetrics'),
          },
        ]),
    ...(a.outlook.soybeanDegreesF === null
      ? []
      : [
          {
            topic,
            says: `cross-check, not used: ${Math.round(a.outlook.soybeanDegreesF)} growing degrees F since planting (base 50, cap 86, each extreme clamped); soybean is half up at ${SOYBEAN_GDD_F.wisconsin.half} to ${SOYBEAN_GDD_F.purdue.half}`,
            source: SOYBEAN_GDD_F.source,
          },
        ]),
    ...(dig === null ? [] : [{ topic, says: `${dig.seedsDug} seeds dug: ${dig.method}`, source: dig.source }]),
    ...(forecast === null ? [{ topic, says: 'no timing', source: HARRINGTON_MINGES.source }] : []),
  ];
}

const TYPICAL_SOIL_C = 18;

function daysAt(celsius: number, model: EmergenceModel): string {
  return daysToEmergence(celsius, model)?.toFixed(1) ?? 'no number of';
}

function damageLines(a: Finished): readonly Explained[] {
  return a.damage.flatMap((damage) => {
    const topic = 'Damage';
    const { leastDays, mostDays, source } = damage.judgeable.rule;
    return [
      { topic, says: `${damage.hazard}: wait ${leastDays} to ${mostDays} days before judging`, source },
      ...(damage.stage === null
        ? []
        : [
            {
              topic,
              says: `stage ${formatStage(damage.stage)}, ${formatStage(stageUnder(damage.stage, damage.stage.convention === 'node' ? 'trifoliolate' : 'node'))} by the other convention`,
              source: STAGE_SOURCES[damage.stage.convention],
            },
          ]),
      ...(damage.hazard !== 'hail'
        ? []
        : [
            {
              topic,
              says: `cross-check, not used: soybean halved by hail loses ${percent(SOYBEAN_HALVED_BY_HAIL.beforeFlowering.lossShare)} at ${SOYBEAN_HALVED_BY_HAIL.beforeFlowering.stages}, ${percent(SOYBEAN_HALVED_BY_HAIL.flowering.lossShare)} at ${SOYBEAN_HALVED_BY_HAIL.flowering.stages}`,
              source: SOYBEAN_HALVED_BY_HAIL.source,
            },
          ]),
      ...(damage.viable === null
        ? []
        : [
            { topic, says: 'a questionable plant counts one half', source: damage.viable.source },
            { topic, says: damage.viable.method, source: damage.viable.intervalSource },
          ]),
      ...(damage.defoliation === null
        ? []
        : [{ topic, says: damage.defoliation.says, source: damage.defoliation.source }]),
      ...(damage.frost === null ? [] : [{ topic, says: damage.frost.because, source: damage.frost.source }]),
    ];
  });
}

function yieldLines(a: Finished): readonly Explained[] {
  const topic = 'Yield';
  if (a.yieldPotential === null) return [];
  const points = a.yieldPotential.even.between.flatMap((point) =>
    point.sources.map((source) => ({
      topic,
      says: `habit ${a.visit.habit}, ${percent(point.standShare)} of a full stand makes ${percent(point.yieldShare.low)} to ${percent(point.yieldShare.high)}`,
      source,
    })),
  );
  return [
    ...points,
    {
      topic,
      says: 'the edges of the band at each point are our reading of what is named',
      source: own('nobody prints one curve for dry beans; growth habits differ'),
    },
    ...a.yieldPotential.penalties.map((penalty) => ({
      topic,
      says: `${penalty.says}: times ${penalty.factor.low.toFixed(2)} to ${penalty.factor.high.toFixed(2)}`,
      source: penalty.source,
    })),
    ...a.yieldPotential.unknown.map((says) => ({
      topic,
      says: `${says}, so nothing is charged`,
      source: COMMON_PRACTICE,
    })),
    { topic, says: 'gaps count from 2 ft (61 cm) on', source: COSTLY_GAP.source },
    { topic, says: `an ordinary row has a spacing CV of ${percent(ORDINARY_CV.cv)}`, source: ORDINARY_CV.source },
    {
      topic,
      says: 'half a stand, evenly spaced, makes 85 to 90 % in good weather (a check, not used)',
      source: HALF_STAND_RULE.source,
    },
    ...nearestCropLines(a),
    {
      topic,
      says: 'stand, gaps and date multiply',
      source: publishedWith('corn, a full two-way table', 'iowaCorn2009'),
    },
  ];
}

/** What is published for the nearest crops, beside the bean band and never in it. */
function nearestCropLines(a: Finished): readonly Explained[] {
  const topic = 'Yield';
  const stand = a.viable ?? a.stand;
  const sd = a.evenness?.spacingSdM ?? null;
  const soybean = stand === null ? null : nearestSoybeanStand(fromPerSquareMetre(stand.perM2, 'perAcre'));
  return [
    ...(soybean === null
      ? []
      : [
          {
            topic,
            says: `cross-check, not used: soybean at ${formatNumber(soybean.plantsPerAcre, 0)} plants/ac makes ${percent(soybean.yieldShare.low)} to ${percent(soybean.yieldShare.high)}`,
            source: soybean.source,
          },
        ]),
    ...(sd === null
      ? []
      : [
          {
            topic,
            says: `cross-check, not used: corn at this spacing SD loses ${cornSpacingLossBuPerAcre(sd / METRES_PER_INCH).toFixed(1)} bu/ac`,
            source: published('nielsen2004'),
          },
        ]),
  ];
}

function soybeanDateLines(day: string): readonly Explained[] {
  return [PENN_STATE_SOYBEAN, MINNESOTA_SOYBEAN].flatMap((table) => {
    const share = readDateTable(table, day);
    return share === null
      ? []
      : [
          {
            topic: 'Money',
            says: `cross-check, not used: soybean planted on that day makes ${percent(share)}`,
            source: table.source,
          },
        ];
  });
}

function moneyLines(a: Finished): readonly Explained[] {
  if (a.money === null) return [];
  const topic = 'Money';
  return [
    {
      topic,
      says: a.money.risk.method,
      source: own('a band has edges and no shape; a triangle says the middle is likelier'),
    },
    {
      topic,
      says: `cost out a replant from ${percent(MONEY_ODDS.replantFrom)} chance that it pays`,
      source: MONEY_ODDS.source,
    },
    {
      topic,
      says: `a new stand reaches ${percent(REPLANT_STAND.share.low)} to ${percent(REPLANT_STAND.share.high)} of the target`,
      source: REPLANT_STAND.source,
    },
    ...a.seed.sources.map((source) => ({ topic, says: 'seed for a new stand', source })),
    {
      topic,
      says: `replanting ${DAYS_TO_REPLANT.days} days after the visit where no day is entered`,
      source: DAYS_TO_REPLANT.source,
    },
    { topic, says: 'dry beans planted up to 18 June lost nothing real', source: DRY_BEAN_DATES.source },
    { topic, says: 'after it 0.8 to 2 % of yield a day', source: AFTER_MID_JUNE.source },
    ...soybeanDateLines(a.money.replantDay),
    { topic, says: dateFactor(a.visit.plantedOn, null).says, source: published('ndsuPlantingDates2016') },
  ];
}

function restLines(a: Finished): readonly Explained[] {
  return [
    { topic: 'Verdict', says: a.decision.because, source: a.decision.source },
    ...a.decision.reasons.map((reason) => ({ topic: 'Verdict', ...reason })),
    ...a.diagnosis.ranked
      .slice(0, 3)
      .map((ranked) => ({ topic: 'Causes', says: ranked.cause.name, source: ranked.cause.source })),
    ...(a.diagnosis.ranked.length === 0
      ? []
      : [{ topic: 'Causes', says: 'how signs are weighed', source: a.diagnosis.source }]),
    ...a.scouting.map(({ says, source }) => ({ topic: 'Scouting', says, source })),
    ...a.lessons.map((lesson) => ({ topic: 'Planter', ...lesson })),
    ...a.cautions.map(({ says, source }) => ({ topic: 'Cautions', says, source })),
  ];
}
