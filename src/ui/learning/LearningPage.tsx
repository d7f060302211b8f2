import { useEffect, useState } from 'preact/hooks';
import { headInUse } from '../../core/learning/headShelf.ts';
import { type LearningSet, learningSet } from '../../core/learning/learningSet.ts';
import { formatDay } from '../../core/outlook/calendar.ts';
import { pageRefusal } from '../parts/pageWords.ts';
import { plural } from '../parts/plural.ts';
import { rows, show, shown } from '../state/app.ts';
import { hrefOf } from '../state/route.ts';
import { farmsHere } from './farmsHere.ts';
import { shelfIn } from './headOfFarm.ts';
import { InUse } from './InUse.tsx';
import { Lesson } from './Lesson.tsx';
import { lessons, startLearning } from './learning.ts';
import { type FarmPhotos, farmPhotos } from './seenPhotos.ts';

/** What the detector learned from one farm's corrections: before and after, what is in use, and the way back. */
export function LearningPage({ farm }: { farm: string }) {
  const [seen, setSeen] = useState<(FarmPhotos & { readonly set: LearningSet }) | null>(null);
  useEffect(() => void show('heads', farm), [farm]);
  const known = rows.value;
  // Read anew with every change that is kept: what was said a moment ago may still be on its way to the disk.
  useEffect(() => {
    let isNewest = true;
    const gather = async () => {
      const photos = await farmPhotos(farm);
      if (isNewest) setSeen({ ...photos, set: learningSet(photos.photos) });
    };
    void gather();
    return () => {
      isNewest = false;
    };
  }, [farm, known]);
  const now = shown.value;
  const document = now?.kind === 'heads' && now.thing === farm ? now.document : null;
  const name = farmsHere().find(({ id }) => id === farm)?.name ?? farm;
  if (document === null || seen === null) return <p class="quiet">Opening</p>;
  const shelf = shelfIn(document);
  if (!shelf.ok) return <p role="alert">{pageRefusal(shelf)}</p>;
  const lesson = lessons.value.get(farm);
  const { set, detector, counts, photos } = seen;
  const inUse = headInUse(shelf.value);
  const wanted = inUse === null ? detector?.version : `${detector?.version}+${inUse.id}`;
  const others = counts.filter((count) => count.detector.version !== wanted);
  return (
    <>
      <h1>Learning, {name}</h1>
      <InUse farm={farm} shelf={shelf.value} />
      <section class="card">
        <h2>{plural(set.photos, 'checked photo')}</h2>
        <p>
          of {photos.length} counted, {plural(set.examples.length, 'mark')} to learn from. A photo teaches once somebody
          says that every mark was looked at, or has touched each.
        </p>
        <WhyNot set={set} />
        {detector !== null && set.photos > 0 && lesson !== 'running' && (
          <button type="button" onClick={() => void startLearning(farm, set, detector)}>
            Compare: stock detector and learned
          </button>
        )}
        {lesson === 'running' && (
          <p role="status" class="busy">
            Learning in the background. You can go on working.
          </p>
        )}
      </section>
      {lesson !== undefined && lesson !== 'running' && <Lesson farm={farm} lesson={lesson} inUse={inUse} />}
      {others.length > 0 && (
        <section class="card">
          <h2>{plural(others.length, 'count')} by another detector</h2>
          <p>They stay as they are. To count one again, open its spot.</p>
          <ul class="list">
            {others.map(({ visit, spot, place, visitedOn }, i) => (
              <li key={i}>
                <a class="row-link" href={hrefOf('visit', visit, 'spot', spot)}>
                  <span class="row-name">Spot {place}</span>
                  <span class="row-day">
                    {formatDay(visitedOn)} {visitedOn.slice(0, 4)}
                  </span>
                </a>
              </li>
            ))}
          </ul>
        </section>
      )}
      <a class="button wide" href={hrefOf('settings')}>
        Back to settings
      </a>
    </>
  );
}

/** Why photos teach nothing, counted by reason. */
function WhyNot({ set }: { set: LearningSet }) {
  const reasons = new Map<string, number>();
  for (const { why } of set.leftOut) reasons.set(why, (reasons.get(why) ?? 0) + 1);
  return (
    <>
      {[...reasons].map(([why, n]) => (
        <p key={why} class="small">
          {n} left out: {why}
        </p>
      ))}
    </>
  );
}
