import { useState } from 'preact/hooks';
import { type NamedOutline, outlinesFromGeoJson } from '../../core/archive/outlinesFromGeoJson.ts';
import { inOneLine } from '../../core/faults/outcome.ts';
import { outlineAreaM2 } from '../../core/sampling/outlineAreaM2.ts';
import type { Position } from '../../core/sampling/randomPoints.ts';
import type { Json } from '../../core/sync/json.ts';
import { phrasingFor } from '../../core/visit/phrasing.ts';
import { type FieldEntry, fieldList } from '../edits/fieldList.ts';
import { given } from '../edits/given.ts';
import { BigNumber } from '../parts/BigNumber.tsx';
import { FieldSketch } from '../parts/FieldSketch.tsx';
import { NotHere } from '../parts/NotHere.tsx';
import { fieldOf } from '../parts/PlantingFacts.tsx';
import { plural } from '../parts/plural.ts';
import { edit, rows, settings } from '../state/app.ts';
import { useWhereabouts } from '../state/fix.ts';
import { hrefOf } from '../state/route.ts';
import { WalkOutline } from './WalkOutline.tsx';

/** The field's outline: drawn, walked, or taken from GeoJSON. Stops are then GPS points inside it. */
export function OutlinePage({ id }: { id: string }) {
  const [walking, setWalking] = useState(false);
  useWhereabouts();
  const entry = fieldList(rows.value).find((one) => one.field.id === id);
  if (entry === undefined) return <NotHere what="field" />;
  const { field } = entry;
  const say = phrasingFor(settings.value.units, null);
  const areaText = (outline: readonly Position[]) => say.area(outlineAreaM2(outline));
  const put = async (outline: readonly Position[] | undefined) => {
    const area = field.area ?? (outline === undefined ? undefined : areaText(outline));
    await edit(
      'field',
      id,
      (own) => given({ ...field, ...fieldOf(own, entry.farm.id), area, outline }) as unknown as Json,
    );
    setWalking(false);
  };
  if (walking) return <WalkOutline field={id} onDone={put} onClose={() => setWalking(false)} />;
  return (
    <>
      <h1>Outline</h1>
      <p class="small">{field.name}</p>
      {field.outline !== undefined && (
        <section aria-live="polite">
          <BigNumber says={areaText(field.outline)} />
          <p>
            {plural(field.outline.length, 'corner')}
            {field.area !== undefined && `, entered as ${field.area}`}
          </p>
          <FieldSketch outline={field.outline} />
        </section>
      )}
      <button type="button" class="main wide" onClick={() => setWalking(true)}>
        Walk it
      </button>
      <FromGeoJson entry={entry} areaText={areaText} onTake={put} />
      {field.outline !== undefined && (
        <button type="button" class="wide" onClick={() => void put(undefined)}>
          Remove the outline
        </button>
      )}
      <a class="button wide" href={hrefOf('field', id)}>
        Back to the field
      </a>
    </>
  );
}

interface FromGeoJsonProps {
  readonly entry: FieldEntry;
  readonly areaText: (outline: readonly Position[]) => string;
  readonly onTake: (outline: readonly Position[]) => Promise<void>;
}

function FromGeoJson({ entry, areaText, onTake }: FromGeoJsonProps) {
  const [found, setFound] = useState<readonly NamedOutline[]>([]);
  const [says, setSays] = useState('');
  const read = async (text: string) => {
    setFound([]);
    setSays('');
    if (text.trim() === '') return;
    const outlines = outlinesFromGeoJson(text);
    if (!outlines.ok) return setSays(inOneLine(outlines));
    const { value } = outlines;
    const own = value.filter((one) => one.name?.toLowerCase() === entry.field.name.toLowerCase());
    const [only] = own.length === 1 ? own : value;
    if (only === undefined || (own.length !== 1 && value.length > 1)) return setFound(value);
    setSays(
      only.holes > 0 ? `Taken. ${plural(only.holes, 'hole')} left out: skip a stop that falls in one.` : 'Taken.',
    );
    await onTake(only.outline);
  };
  return (
    <section class="card form">
      <label class="button file">
        From a GeoJSON file
        <input
          type="file"
          accept=".geojson,.json,application/geo+json,application/json"
          onChange={(event) => {
            const input = event.currentTarget;
            const [file] = input.files ?? [];
            if (file !== undefined) void file.text().then(read);
            input.value = '';
          }}
        />
      </label>
      <label class="line">
        <span>Or paste GeoJSON</span>
        <textarea rows={3} spellcheck={false} onInput={(event) => void read(event.currentTarget.value)} />
      </label>
      <p role="status">{says}</p>
      {found.length > 0 && (
        <fieldset class="choice">
          <legend>Which one?</legend>
          {found.slice(0, 50).map((one, i) => (
            <button type="button" key={i} onClick={() => void onTake(one.outline).then(() => setFound([]))}>
              {one.name ?? `Number ${i + 1}`}, {areaText(one.outline)}
            </button>
          ))}
        </fieldset>
      )}
    </section>
  );
}
