import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { cutwormThreshold, rotaryHoeThreshold, salinityHarm } from '../../../src/core/damage/actionThresholds.ts';
import { defoliationLoss, SOYBEAN_HALVED_BY_HAIL } from '../../../src/core/damage/defoliation.ts';
import { frostRisk } from '../../../src/core/damage/frostRisk.ts';
import { judgePlant } from '../../../src/core/damage/growingPoint.ts';
import { formatStage, parseVegetativeStage, stageUnder } from '../../../src/core/damage/growthStage.ts';
import { canJudgeOn } from '../../../src/core/damage/waitRule.ts';

describe('judgePlant', () => {
  // Kandel, NDSU Crop & Pest Report 12 Jul 2018; Manitoba Pulse & Soybean Growers (reseeding 2020, frost 2025);
  // University of Minnesota Extension, soybean damage and replant.
  it.each([
    ['cut below the cotyledons', { cut: 'below cotyledons' }, 'dead'],
    ['cut above the cotyledons', { cut: 'above cotyledons' }, 'buds alive'],
    ['one cotyledon missing', { cotyledons: 1 }, 'growing'],
    ['both missing, growing point intact', { cotyledons: 0, growingPoint: 'green' }, 'growing'],
    ['heavily bruised and folded', { stem: 'heavily bruised and folded' }, 'dead'],
    ['light bruise', { stem: 'lightly bruised' }, 'growing'],
    ['tip gone, axillary buds alive', { growingPoint: 'gone', axillaryBuds: 'green' }, 'buds alive'],
    ['cut above the unifoliates', { cut: 'above unifoliates' }, 'buds alive'],
  ] as const)('%s: %s is %s', (_name, signs, state) => {
    expect(judgePlant(signs).state).toBe(state);
  });

  it('does not guess when nothing was looked at', () => {
    expect(judgePlant({}).state).toBe('doubtful');
  });

  it('no saving sign rescues a plant cut below its cotyledons', () => {
    fc.assert(
      fc.property(
        fc.constantFrom('green', 'gone', 'brown' as const),
        fc.constantFrom('green', 'none' as const),
        (growingPoint, axillaryBuds) =>
          judgePlant({
            cut: 'below cotyledons',
            growingPoint: growingPoint as 'green',
            axillaryBuds: axillaryBuds as 'green',
          }).state === 'dead',
      ),
    );
  });
});

describe('growth stages', () => {
  // NDSU 11 Jun 2020 counts trifoliolates; Northarvest 19 Jun 2006 counts the unifoliolate node as V1.
  it('the two published conventions differ by one leaf', () => {
    const old = parseVegetativeStage('V3', 'node')!;
    expect(stageUnder(old, 'trifoliolate')).toEqual({ code: 'V', number: 2, convention: 'trifoliolate' });
    expect(stageUnder(parseVegetativeStage('v1', 'node')!, 'trifoliolate').code).toBe('VC');
    expect(stageUnder(parseVegetativeStage('VC', 'trifoliolate')!, 'node')).toMatchObject({ code: 'V', number: 1 });
  });

  it('goes there and back for every trifoliolate stage', () => {
    fc.assert(
      fc.property(fc.integer({ min: 1, max: 20 }), (number) => {
        const stage = { code: 'V', number, convention: 'trifoliolate' } as const;
        expect(stageUnder(stageUnder(stage, 'node'), 'trifoliolate')).toEqual(stage);
      }),
    );
  });

  it('never prints a bare V number', () => {
    expect(formatStage(parseVegetativeStage('V2', 'trifoliolate')!)).toBe('V2 (trifoliolates counted)');
    expect(parseVegetativeStage('R1', 'node')).toBeNull();
    expect(parseVegetativeStage('V0', 'node')).toBeNull();
  });
});

describe('canJudgeOn', () => {
  // SDSU (Berg & Kleinjan) and University of Minnesota: 3 to 5 days after hail or frost.
  it('hail waits three to five days', () => {
    expect(canJudgeOn('hail', '2026-06-10', '2026-06-12')).toMatchObject({
      ready: false,
      from: '2026-06-13',
      by: '2026-06-15',
    });
    expect(canJudgeOn('hail', '2026-06-10', '2026-06-13').ready).toBe(true);
  });

  // Common practice, no source.
  it('wind waits a couple of days, and says that it is practice only', () => {
    const wind = canJudgeOn('wind', '2026-06-29', '2026-06-30');
    expect(wind).toMatchObject({ ready: false, from: '2026-07-01' });
    expect(wind.rule.source.kind).toBe('common practice');
  });
});

describe('frostRisk', () => {
  // Meyer and Badaruddin 2001, Crop Sci 41:1838-1842: LT50 -3.25 to -3.5 C for pinto and navy, -4.5 C for soybean.
  it('-3.3 C is inside the dry-bean LT50 band and above that of soybean', () => {
    expect(frostRisk(-3.3, 1).risk).toBe('half or more may be dead');
    expect(frostRisk(-3.3, 1).because).toContain('inside');
    expect(frostRisk(-3.3, 1, 'soybean').risk).not.toBe('half or more may be dead');
  });

  // Manitoba Pulse & Soybean Growers, spring frost 2025: below -2 C for more than two hours.
  it('below -2 C for more than two hours is severe, shorter is not', () => {
    expect(frostRisk(-2.5, 3).risk).toBe('severe');
    expect(frostRisk(-2.5, 2).risk).toBe('some');
    expect(frostRisk(-2.5, null).risk).toBe('severe');
    expect(frostRisk(3, 0).risk).toBe('none');
  });
});

describe('action thresholds', () => {
  // NDSU entomology, 9 May 2002.
  it('cutworm: 20 % cut or one larva in three feet of row', () => {
    expect(cutwormThreshold({ larvae: 0, rowLengthM: 3, cutShare: 0.2 }).reached).toBe(true);
    expect(cutwormThreshold({ larvae: 1, rowLengthM: 0.9144, cutShare: null }).reached).toBe(true);
    expect(cutwormThreshold({ larvae: 1, rowLengthM: 1, cutShare: 0.19 }).reached).toBe(false);
    expect(cutwormThreshold({ larvae: 3, rowLengthM: 0, cutShare: null }).reached).toBe(false);
  });

  // Ontario dry bean agronomy, soil crusting: keep buried or uprooted plants below 10 %.
  it('rotary hoe: 12 % buried means stop', () => {
    expect(rotaryHoeThreshold(0.12).reached).toBe(true);
    expect(rotaryHoeThreshold(0.07).reached).toBe(false);
  });

  // Colorado State Fact Sheet 0.539: losses above 2 dS/m, severe above 3.5.
  it('salinity 2.1 loses yield, 3.6 is severe', () => {
    expect(salinityHarm(2.1).harm).toBe('yield loss');
    expect(salinityHarm(3.6).harm).toBe('severe');
    expect(salinityHarm(1.9).harm).toBe('none expected');
  });
});

describe('defoliation', () => {
  // UNL CropWatch 2023.
  it('soybean cut from 120,000 to 60,000 by hail loses 14 % early and 35 % in flower', () => {
    expect(SOYBEAN_HALVED_BY_HAIL.beforeFlowering.lossShare).toBe(0.14);
    expect(SOYBEAN_HALVED_BY_HAIL.flowering.lossShare).toBe(0.35);
  });

  // Kansas State eUpdate; Weinlaeder and others 2007 (the dry-bean chart itself was not readable).
  it('says when no number is published', () => {
    expect(defoliationLoss(0.4, false).loss).toEqual({ low: 0, high: 0.1 });
    expect(defoliationLoss(0.8, false).loss).toBeNull();
    expect(defoliationLoss(0.4, true).loss).toBeNull();
  });
});
