import { type Migration, sql } from 'kysely';

/** Numbered steps from an empty file to the tables of today. A step that has been released is never altered. */
export const MIGRATIONS: Readonly<Record<string, Migration>> = {
  '001': {
    async up(db) {
      const statements = [
        `create table record (
          n integer primary key autoincrement, id text not null unique, device text not null, sequence integer not null,
          author text not null, at text not null, kind text not null, thing text not null, hash text not null,
          body text not null, received_at text not null)`,
        'create index record_thing on record (kind, thing, n)',
        'create index record_device on record (device, sequence)',
        `create table thing (
          kind text not null, id text not null, farm text, field text, planting text, visit text, spot text,
          season text, class text, verdict text, date text, title text not null, search text not null, photo text,
          latitude real, longitude real,
          conflicts integer not null, removed integer not null, problem text, author text not null,
          updated_at text not null, primary key (kind, id))`,
        // With all that a search by words looks at, so that it reads no row it does not show.
        'create index thing_date on thing (kind, removed, date, id, field, farm, search)',
        'create index thing_named on thing (kind, id, search)',
        'create index thing_field on thing (kind, field, removed, date, id)',
        'create index thing_farm on thing (kind, farm, removed, date, id)',
        'create index thing_season on thing (kind, season, removed, date, id)',
        'create index thing_class on thing (kind, class, removed, date, id)',
        'create index thing_verdict on thing (kind, verdict, removed, date, id)',
        'create index thing_visit on thing (visit, kind, date, id) where visit is not null',
        'create index thing_photo on thing (photo, kind) where photo is not null',
        'create index thing_conflicts on thing (kind, removed, date, id) where conflicts > 0',
        `create table document (
          kind text not null, id text not null, body text not null, conflicts text not null,
          primary key (kind, id))`,
        `create table photo_file (
          sha256 text primary key, bytes integer not null, type text not null, stored_at text not null)`,
        'create table meta (key text primary key, value text not null)',
      ];
      for (const statement of statements) await sql.raw(statement).execute(db);
    },
  },
};
