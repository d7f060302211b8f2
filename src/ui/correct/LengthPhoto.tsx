import { useEffect, useMemo, useRef, useState } from 'preact/hooks';
import type { CountResult } from '../../core/count/countResult.ts';
import type { Point } from '../../core/geometry/point.ts';
import type { Reading } from '../../core/reference/reference.ts';
import type { LengthSystem } from '../../core/units/formatLength.ts';
import { parseLength } from '../../core/units/parseLength.ts';
import './correct.css';
import type { Thing } from './gestures.ts';
import { wishOf } from './keys.ts';
import { LengthBar } from './LengthBar.tsx';
import { lookMoves, wholeLook } from './lookMoves.ts';
import { createLookStore } from './lookStore.ts';
import { PictureView } from './PictureView.tsx';
import type { Scene } from './paintView.ts';
import { usePhotoPicture } from './usePhotoPicture.ts';
import { sameCount, useSteady } from './useSteady.ts';

interface LengthPhotoProps {
  readonly photo: Blob;
  readonly result: CountResult;
  readonly units: LengthSystem;
  /** Two or more places with their readings, the first at nought. */
  readonly onMarks: (marks: readonly Reading[]) => void;
  readonly onBack: () => void;
}

/** So near a thumb can put a point onto a line of a tape: a fraction of the whole photo's width. */
const NEAR_SHARE = 0.12;
const EDGE_SHARE = 0.02;

/**
 * A length known by a person, put on a photo: two or more points in order along a straight thing, and the length from
 * each to the next. By finger: a tap puts a point and comes near, a drag puts it right. By keys: arrows, Enter.
 */
export function LengthPhoto({ photo, result: given, units, onMarks, onBack }: LengthPhotoProps) {
  const result = useSteady(given, sameCount);
  const { widthPx, heightPx } = result.photo;
  const bare = useMemo(() => withoutScale(result), [result]);
  const { picture, trouble } = usePhotoPicture(photo, bare);
  const root = useRef<HTMLElement>(null);
  const [points, setPoints] = useState<readonly Point[]>([]);
  const [lengths, setLengths] = useState<readonly string[]>([]);
  const [held, setHeld] = useState<number | null>(null);
  const [said, say] = useState('');
  const photoSize: Point = [widthPx, heightPx];
  // From the first frame: a tap on a view that is not yet where it belongs would put its point somewhere else.
  const look = useMemo(() => createLookStore(wholeLook(bare)), [bare]);
  const moves = lookMoves(look, picture?.map ?? null, bare);
  useEffect(() => root.current?.focus(), []);

  const comeNear = ([xPx, yPx]: Point) => {
    if (picture === null) return;
    const pxPerM = picture.map.pxPerM([xPx, yPx]);
    const near = (innerWidth / (NEAR_SHARE * widthPx)) * pxPerM;
    look.glide({ xPx, yPx, screenPxPerM: Math.max(look.get().screenPxPerM, near) });
  };
  const onPhoto = ([x, y]: Point): Point => [
    Math.min(widthPx - 1, Math.max(0, x)),
    Math.min(heightPx - 1, Math.max(0, y)),
  ];
  const put = (place: Point) => {
    const at = onPhoto(place);
    setPoints([...points, at]);
    setHeld(points.length);
    comeNear(at);
    say(`Point ${points.length + 1} put. Arrows move it.`);
  };
  const takeBack = () => {
    if (points.length === 0) return say('No point to take back.');
    setPoints(points.slice(0, -1));
    setLengths(lengths.slice(0, Math.max(0, points.length - 2)));
    setHeld(null);
    say(`Point ${points.length} taken back.`);
  };
  const move = (index: number, to: Point) => {
    const inside = onPhoto(to);
    setPoints(points.map((point, i) => (i === index ? inside : point)));
    return inside;
  };
  const marks = marksOf(points, lengths);

  const onKeyDown = (event: KeyboardEvent) => {
    if (event.target instanceof HTMLInputElement && event.key !== 'Escape') return;
    const wish = wishOf(event);
    if (wish === null || (wish === 'put' && event.target instanceof HTMLButtonElement)) return;
    event.preventDefault();
    if (typeof wish === 'object') {
      const [right, down] = 'move' in wish ? wish.move : wish.pan;
      const point = held === null ? undefined : points[held];
      if (held === null || point === undefined || 'pan' in wish) return moves.pan([right, down]);
      const step = wish.far ? 10 : 1;
      return moves.at(move(held, [point[0] + right * step, point[1] + down * step]));
    }
    const { xPx, yPx } = look.get();
    if (wish === 'put' || wish === 'add') put([xPx, yPx]);
    else if (wish === 'undo') takeBack();
    else if (wish === 'nearer') moves.zoom(1.4);
    else if (wish === 'farther') moves.zoom(1 / 1.4);
    else if (wish === 'whole') moves.whole();
    else if (wish === 'stop') held === null ? onBack() : setHeld(null);
  };
  // Points are drawn and taken hold of as readings are, known by their place in the list.
  const scene: Scene = {
    ...NOTHING,
    readings: points.map(([xPx, yPx], i) => ({ readingM: i, xPx, yPx, who: null, label: String(i + 1) })),
    selectedReadingM: held,
    system: units,
  };
  const onTap = (thing: Thing | null, at: Point) => {
    root.current?.focus();
    if (thing !== null && 'readingM' in thing) return setHeld(thing.readingM);
    const [x, y] = onPhoto(at);
    // Beside the photo nothing is known; a finger at its very edge means the edge.
    if (Math.max(Math.abs(at[0] - x), Math.abs(at[1] - y)) > EDGE_SHARE * widthPx)
      return say('That is beside the photo.');
    put(at);
  };
  const onDrag = (thing: Thing, to: Point) => {
    if (!('readingM' in thing)) return;
    setHeld(thing.readingM);
    move(thing.readingM, to);
  };
  return (
    <section
      ref={root}
      class="cp"
      tabIndex={-1}
      aria-label={`Set a length in ${result.photo.file}`}
      onKeyDown={onKeyDown}
    >
      <header class="cp-top cp-top-length">
        <p class="cp-length-what">
          <b>Set a length.</b> Tap two or more places along one straight thing on the soil, a known length apart.
        </p>
        <button type="button" class="cp-done" onClick={onBack}>
          Back
        </button>
      </header>
      <div class="cp-views cp-aim">
        {picture !== null && (
          <PictureView
            name="Photo"
            picture={picture}
            photoSize={photoSize}
            look={look}
            scene={scene}
            active={true}
            onTap={onTap}
            onDrag={onDrag}
            onTouch={() => undefined}
          />
        )}
        {trouble !== null && <p class="cp-trouble">{trouble}</p>}
      </div>
      <LengthBar
        points={points.length}
        lengths={lengths}
        ready={marks !== null}
        units={units}
        onPut={() => put([look.get().xPx, look.get().yPx])}
        onTakeBack={takeBack}
        onWhole={moves.whole}
        onLength={(i, text) => setLengths(points.slice(1).map((_, k) => (k === i ? text : (lengths[k] ?? ''))))}
        onCount={() => marks !== null && onMarks(marks)}
      />
      <p class="cp-hidden" role="status" aria-live="polite">
        {said}
      </p>
    </section>
  );
}

const NOTHING = { marks: [], ends: [], selectedId: null, ghost: null } as const;

/** The result as if nothing were known of lengths: the whole photo is looked at. */
function withoutScale(result: CountResult): CountResult {
  return { ...result, stretch: null, reference: { ...result.reference, photoToGround: null, endsPx: null } };
}

/** Points with the readings that their lengths make; null until every length is known. */
function marksOf(points: readonly Point[], lengths: readonly string[]): readonly Reading[] | null {
  if (points.length < 2) return null;
  let readingM = 0;
  const marks: Reading[] = [];
  for (const [i, [xPx, yPx]] of points.entries()) {
    if (i > 0) {
      const length = parseLength(lengths[i - 1] ?? '');
      if (!length.ok || !(length.value > 0)) return null;
      readingM += length.value;
    }
    marks.push({ xPx, yPx, readingM });
  }
  return marks;
}
