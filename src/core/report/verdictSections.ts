import { sayOdds } from '../decision/sayOdds.ts';
import { formatDay } from '../outlook/calendar.ts';
import type { Assessment } from '../visit/assessment.ts';
import { phrasingFor } from '../visit/phrasing.ts';

export interface Section {
  readonly title: string;
  readonly numbered: boolean;
  readonly lines: readonly string[];
}

/** What follows the numbers, in reading order; empty sections are left out. */
export function verdictSections(a: Assessment): readonly Section[] {
  const sections: readonly Section[] = [
    { title: 'Why', numbered: true, lines: a.decision.reasons.map((reason) => reason.says) },
    { title: 'What would change it', numbered: false, lines: a.decision.wouldChange },
    { title: 'Cautions', numbered: false, lines: a.cautions.map((caution) => caution.says) },
    { title: 'Zones', numbered: false, lines: zoneLines(a) },
    { title: 'Damage', numbered: false, lines: damageLines(a) },
    { title: 'Likely causes', numbered: true, lines: causeLines(a) },
    { title: 'Check next', numbered: false, lines: a.diagnosis.nextSign === null ? [] : [a.diagnosis.nextSign.text] },
    { title: 'Scouting', numbered: false, lines: a.scouting.map((entry) => entry.says) },
    { title: 'For the planter', numbered: false, lines: a.lessons.map((lesson) => lesson.says) },
    { title: 'First impression, before the number', numbered: false, lines: impressionLines(a) },
    {
      title: 'Take note',
      numbered: false,
      lines: [...a.warnings, ...(a.outlook?.stillComing === true ? a.outlook.flags : [])],
    },
  ];
  return sections.filter((section) => section.lines.length > 0);
}

function zoneLines(a: Assessment): readonly string[] {
  const say = phrasingFor(a.visit.units, a.visit.currency);
  return a.zones.map((zone) => {
    const stand = zone.viable ?? zone.stand;
    const numbers = stand === null ? 'nothing usable counted' : `${say.plants(stand.perM2)}, ${stand.spots} spots`;
    const money = zone.money === null ? '' : `; replanting pays in ${sayOdds(zone.money.risk.probabilityPays)}`;
    return `${zone.name}, ${say.area(zone.areaM2)}: ${numbers}${money}`;
  });
}

function damageLines(a: Assessment): readonly string[] {
  return a.damage.map((damage) => {
    const place = damage.zone === null ? '' : ` on ${damage.zone}`;
    const parts = [
      `${damage.hazard}${place}, ${formatDay(damage.happenedOn)}`,
      ...(damage.judgeable.ready ? [] : [`cannot be judged before ${formatDay(damage.judgeable.from)}`]),
      ...(damage.viable === null
        ? []
        : [
            `${Math.round(damage.viable.value * 100)} % of ${damage.viable.plants} plants alive (${Math.round(damage.viable.low * 100)} to ${Math.round(damage.viable.high * 100)} %)`,
          ]),
      ...(damage.frost === null ? [] : [damage.frost.because]),
      ...(damage.defoliation === null ? [] : [damage.defoliation.says]),
    ];
    return parts.join('; ');
  });
}

const CAUSES_SHOWN = 3;

function causeLines(a: Assessment): readonly string[] {
  const shown = a.diagnosis.ranked.slice(0, CAUSES_SHOWN).filter((cause) => cause.share >= 0.05);
  return shown.map((cause) => `${cause.cause.name} (${Math.round(cause.share * 100)} % of belief)`);
}

function impressionLines(a: Assessment): readonly string[] {
  return a.impressions.map((impression) => {
    const quote = impression.words === null ? '' : `, "${impression.words}"`;
    return `${impression.who}, ${impression.at.slice(0, 10)}: ${impression.leaning}${quote}`;
  });
}
