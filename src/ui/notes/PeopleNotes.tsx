import type { VisitDocument } from '../../core/visit/visitSchema.ts';
import { setRole } from '../edits/noteEdits.ts';
import { TextField } from '../parts/TextField.tsx';
import { edit } from '../state/app.ts';

const ROLES = ['grower', 'agronomist', 'scout', 'adjuster'] as const;

/** Who had a part in this visit, and what they do. */
export function PeopleNotes({ visit }: { visit: VisitDocument }) {
  return (
    <section class="card">
      {visit.people.map(({ id, name, role }) => (
        <TextField
          key={id}
          label={`What ${name} does`}
          value={role ?? ''}
          placeholder="scout"
          list="roles"
          onChange={(text) => void edit('visit', visit.id, setRole(id, text))}
        />
      ))}
      <datalist id="roles">
        {ROLES.map((role) => (
          <option key={role} value={role} />
        ))}
      </datalist>
    </section>
  );
}
