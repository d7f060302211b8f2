import { useEffect, useLayoutEffect, useMemo, useRef, useState } from 'preact/hooks';
import type { Correction, PhotoChange } from '../../core/corrections/correction.ts';
import type { CountResult } from '../../core/count/countResult.ts';
import type { Point } from '../../core/geometry/point.ts';
import type { Strip } from '../../core/straighten/strip.ts';
import { type Action, changeFor, nearestOther } from './actions.ts';
import './correct.css';
import type { Thing } from './gestures.ts';
import { type Wish, wishOf } from './keys.ts';
import { lookMoves } from './lookMoves.ts';
import { createLookStore } from './lookStore.ts';
import { MarkList } from './MarkList.tsx';
import { NumbersBar } from './NumbersBar.tsx';
import { nudged } from './nudge.ts';
import { numbersOf, numbersSpoken } from './numbers.ts';
import { PictureView } from './PictureView.tsx';
import { proposePlace } from './proposePlace.ts';
import { ReviewBar } from './ReviewBar.tsx';
import { sceneOf } from './sceneOf.ts';
import { useCorrecting } from './useCorrecting.ts';
import { useNumbersReady } from './useNumbersReady.ts';
import { usePictures } from './usePictures.ts';
import { sameCount, samePeople, sameRecords, useSteady } from './useSteady.ts';

/**
 * Correcting one photo's count, on the whole screen. The caller owns the records; this component shows them and asks
 * for more.
 *
 *   <CorrectPhoto photo={blob} result={result} strip={strip} corrections={own} by={name}
 *                 onChange={(change) => append(change)} onDone={close} />
 *
 * `corrections` are the records of this count, oldest first, whole history (a visit's records of one count fit as they
 * are). `onChange` gets one change; the caller gives it an id, a time and the person, appends it, and passes the longer
 * list back in. Undo and redo are changes too. Nothing is stored here. Where the records' `by` holds an id of a person
 * and not the name, `people` tells the names.
 */
export interface CorrectPhotoProps {
  /** The photo file as it was taken. */
  readonly photo: Blob;
  /** What the machine said; never changed. */
  readonly result: CountResult;
  /** The straightened row, where it is at hand; null: it is made from the photo and the result's own plane. */
  readonly strip: Strip | null;
  readonly corrections: readonly Correction[];
  /** Name of the person who corrects: own changes read "you". */
  readonly by: string;
  readonly people?: readonly { readonly id: string; readonly name: string }[];
  readonly units?: 'imperial' | 'metric';
  /** Least stand that is good enough, plants per square metre: marks that could decide it are asked first. */
  readonly floorPerM2?: number | null;
  /** Whether the doubt of this count can change the verdict; null where there is none yet: then the floor is asked. */
  readonly decides?: boolean | null;
  readonly onChange: (change: PhotoChange) => void;
  readonly onDone: () => void;
  /** Asked for where the photo has no known length and one can be set. */
  readonly onSetLength?: () => void;
}

/** Arrow keys at rest for so long make one record. */
const NUDGE_REST_MS = 600;
/** About so much of the row is wanted across a phone. */
const FIRST_WIDTH_M = 0.9;
const NOBODY: readonly { readonly id: string; readonly name: string }[] = [];

export function CorrectPhoto(props: CorrectPhotoProps) {
  const { photo, strip, by, units = 'imperial', floorPerM2 = null, decides = null, onChange, onDone } = props;
  const result = useSteady(props.result, sameCount);
  const corrections = useSteady(props.corrections, sameRecords);
  const people = useSteady(props.people ?? NOBODY, samePeople);
  const correcting = useCorrecting({ result, corrections, by, people, system: units, floorPerM2, decides });
  const { shown, marks, asking, unsure } = correcting;
  const pictures = usePictures(photo, strip, result, shown);
  useNumbersReady(result.plants.length);
  const root = useRef<HTMLElement>(null);
  const [held, setHeld] = useState<Thing | null>(() => (asking[0] === undefined ? null : { plantId: asking[0] }));
  const [view, setView] = useState<'row' | 'photo'>('row');
  const [ghost, setGhost] = useState<{ readonly at: Point; readonly turn: number } | null>(null);
  const [said, say] = useState('');
  const follow = useRef(true);
  const skipped = useRef(new Set<string>());
  const nudging = useRef<{ readonly change: PhotoChange; readonly timer: ReturnType<typeof setTimeout> } | null>(null);
  const photoSize: Point = [result.photo.widthPx, result.photo.heightPx];
  const look = useMemo(
    () =>
      createLookStore({
        xPx: photoSize[0] / 2,
        yPx: photoSize[1] / 2,
        screenPxPerM: Math.min(900, Math.max(380, innerWidth / FIRST_WIDTH_M)),
      }),
    [result],
  );

  const moves = lookMoves(look, pictures.photo?.map ?? null, shown);
  const markOf = (id: string) => marks.find((mark) => mark.shape !== 'gone' && mark.plant.id === id) ?? null;
  const mark = held !== null && 'plantId' in held ? markOf(held.plantId) : null;
  const reading =
    held !== null && 'readingM' in held
      ? shown.reference.readings.find((r) => r.readingM === held.readingM)
      : undefined;
  const place: Point | null =
    mark !== null ? [mark.plant.xPx, mark.plant.yPx] : reading !== undefined ? [reading.xPx, reading.yPx] : null;

  // What is held comes into view, unless a finger is on it already.
  const heldName = held === null ? '' : JSON.stringify(held);
  // Before the frame is drawn, so that an answer costs one frame and not two.
  useLayoutEffect(() => {
    if (place !== null && follow.current) moves.at(place);
  }, [heldName, look]);
  useEffect(() => root.current?.focus(), []);

  const make = (change: PhotoChange, words: string) => {
    onChange(change);
    say(words);
  };
  const settleNudge = () => {
    if (nudging.current === null) return;
    clearTimeout(nudging.current.timer);
    const { change } = nudging.current;
    nudging.current = null;
    make(change, change.kind === 'move reading' ? 'Reading placed, all worked out again' : 'Moved');
  };
  const hold = (thing: Thing | null, show = true) => {
    settleNudge();
    setGhost(null);
    follow.current = show;
    setHeld(thing);
  };
  /** The next mark to ask about, those put off coming last; null when all were looked at. */
  const next = (without: string | null): string | null => {
    if (without !== null) skipped.current.add(without);
    const open = asking.filter((id) => id !== without);
    const fresh = open.find((id) => !skipped.current.has(id));
    if (fresh === undefined) skipped.current.clear();
    return fresh ?? open[0] ?? null;
  };
  const goOn = (without: string | null) => {
    const id = next(without);
    hold(id === null ? null : { plantId: id });
    return id === null ? 'All marks are looked at.' : `Next: ${markOf(id)?.says ?? ''}`;
  };
  const act = (wish: Action['wish']) => {
    settleNudge();
    if (wish === 'next') return say(goOn(mark?.plant.id ?? null));
    if (mark === null) return say('No mark is chosen.');
    const change = changeFor(wish, mark);
    const words = `${mark.says.split(',')[0]}: ${wish}.`;
    make(change, `${words} ${goOn(mark.plant.id)}`);
  };
  const putAt = (at: Point) => {
    const plantId = `added-${crypto.randomUUID().slice(0, 8)}`;
    make({ kind: 'add plant', plantId, xPx: at[0], yPx: at[1] }, 'Plant added');
    hold({ plantId }, false);
  };
  const moveTo = (thing: Thing, [xPx, yPx]: Point): PhotoChange =>
    'plantId' in thing
      ? { kind: 'move plant', plantId: thing.plantId, xPx, yPx }
      : { kind: 'move reading', readingM: thing.readingM, xPx, yPx };

  const nudge = (by: Point, far: boolean) => {
    if (ghost !== null) {
      const at = nudged(ghost.at, by, far, view, shown);
      setGhost({ ...ghost, at });
      look.set({ ...look.get(), xPx: at[0], yPx: at[1] });
      return;
    }
    if (held === null || place === null) return moves.pan(by);
    if (nudging.current !== null) clearTimeout(nudging.current.timer);
    // Keys can come faster than the page is drawn: go on from the last step, not from what is drawn.
    const under = nudging.current?.change;
    const from: Point = under?.kind === 'move plant' || under?.kind === 'move reading' ? [under.xPx, under.yPx] : place;
    const change = moveTo(held, nudged(from, by, far, view, shown));
    nudging.current = { change, timer: setTimeout(() => settle.current(), NUDGE_REST_MS) };
    correcting.preview(change);
  };
  const settle = useRef(settleNudge);
  settle.current = settleNudge;
  useEffect(() => () => settle.current(), []);

  const propose = () => {
    settleNudge();
    const turn = ghost === null ? 0 : ghost.turn + 1;
    const now = look.get();
    const at = proposePlace(shown, turn) ?? [now.xPx, now.yPx];
    // Nothing is in hand meanwhile: an answer must not fall on a mark out of sight.
    setHeld(null);
    setGhost({ at, turn });
    moves.at(at);
    say('A plant here? Arrows move it, Enter puts it, A goes to the next bare run, Escape leaves it.');
  };
  const mergeNearest = () => {
    const other = mark === null ? null : nearestOther(marks, mark);
    if (mark === null || other === null) return say('No mark nearby to join.');
    make({ kind: 'merge plants', plantId: mark.plant.id, otherId: other.plant.id }, 'Two marks are one plant');
  };
  const step = (which: 'undo' | 'redo') => {
    settleNudge();
    const found = correcting[which];
    if (found === null) return say(which === 'undo' ? 'Nothing to undo.' : 'Nothing to redo.');
    make(found.change, `${which === 'undo' ? 'Taken back' : 'Brought back'}: ${found.name}.`);
    const { change } = found.deed;
    if ('plantId' in change) setHeld({ plantId: change.plantId });
  };

  const goBack = () => {
    const order = marks.filter((one) => one.shape !== 'gone');
    const at = order.findIndex((one) => one.plant.id === mark?.plant.id);
    const before = order[(at - 1 + order.length) % Math.max(1, order.length)];
    if (before !== undefined) hold({ plantId: before.plant.id });
  };
  const answers: Readonly<Record<Exclude<Wish, object>, () => void>> = {
    keep: () => act('keep'),
    'not a plant': () => act('not a plant'),
    weed: () => act('weed'),
    'two plants': () => act('two plants'),
    hurt: () => act('hurt'),
    next: () => act('next'),
    before: goBack,
    merge: mergeNearest,
    add: propose,
    put: () => (ghost === null ? settleNudge() : putAt(ghost.at)),
    undo: () => step('undo'),
    redo: () => step('redo'),
    'other view': () => setView(view === 'row' ? 'photo' : 'row'),
    nearer: () => moves.zoom(1.4),
    farther: () => moves.zoom(1 / 1.4),
    whole: moves.whole,
    stop: () => {
      correcting.preview(null);
      hold(null);
    },
  };
  const wanted = (wish: Wish): void => {
    if (typeof wish !== 'object') answers[wish]();
    else if ('move' in wish) nudge(wish.move, wish.far);
    else moves.pan(wish.pan);
  };
  const onKeyDown = (event: KeyboardEvent) => {
    const wish = wishOf(event);
    if (wish === null) return;
    // Enter on a button presses that button, unless a plant is about to be put.
    if (wish === 'put' && ghost === null && event.target instanceof HTMLButtonElement) return;
    event.preventDefault();
    wanted(wish);
  };

  const ghostAt = ghost?.at ?? null;
  const scene = useMemo(
    () => sceneOf(shown, marks, held, ghostAt, by, units),
    [shown, marks, heldName, ghostAt, by, units],
  );
  const views = { photoSize, look, scene, onTap: tapped, onDrag: dragged };
  function tapped(thing: Thing | null, at: Point) {
    root.current?.focus();
    if (thing !== null) return hold(thing, false);
    settleNudge();
    putAt(at);
  }
  function dragged(thing: Thing, to: Point, done: boolean) {
    const change = moveTo(thing, to);
    if (heldName !== JSON.stringify(thing)) hold(thing, false);
    correcting.preview(change);
    if (done) make(change, 'plantId' in thing ? 'Moved' : 'Reading placed, all worked out again');
  }

  const leave = () => {
    settleNudge();
    onDone();
  };
  const numbers = numbersOf(shown, units);
  return (
    <section ref={root} class="cp" tabIndex={-1} aria-label={`Correct ${result.photo.file}`} onKeyDown={onKeyDown}>
      <NumbersBar
        numbers={numbers}
        checkedBy={shown.checkedBy}
        left={asking.length}
        unsure={unsure}
        onDone={leave}
        onSetLength={result.stretch === null ? (props.onSetLength ?? null) : null}
      />
      <div class={`cp-views cp-first-${pictures.strip === null ? 'photo' : view}`}>
        {pictures.strip !== null && (
          <PictureView
            name="Row, straightened"
            picture={pictures.strip}
            active={view === 'row'}
            onTouch={() => setView('row')}
            {...views}
          />
        )}
        {pictures.photo !== null && (
          <PictureView
            name="Photo"
            picture={pictures.photo}
            active={view === 'photo' || pictures.strip === null}
            onTouch={() => setView('photo')}
            {...views}
          />
        )}
        {pictures.trouble !== null && <p class="cp-trouble">{pictures.trouble}</p>}
      </div>
      <ReviewBar
        mark={mark}
        left={asking.length}
        deciding={mark !== null && correcting.deciding.has(mark.plant.id)}
        reading={reading?.readingM ?? null}
        placing={ghost !== null}
        undo={correcting.undo?.name ?? null}
        redo={correcting.redo?.name ?? null}
        units={units}
        onAct={act}
        onWish={wanted}
      />
      <MarkList marks={marks} readings={scene.readings} held={held} units={units} onHold={hold} />
      <p class="cp-hidden" role="status" aria-live="polite">
        {said === '' ? '' : `${said} ${numbersSpoken(numbers)}.`}
      </p>
    </section>
  );
}
