/** The tables of an office in PostgreSQL, step by step. Append only: a step that has shipped is never edited. */
export type OfficeMigration = { readonly version: number; readonly sql: string };

export const SCHEMA = 'flueside';
export const LAPTOP_ROLE = 'flueside_laptop';
export const OFFICE_ROLE = 'flueside_office';

/** Visits and bench tests go by the year of the work; what lasts (appliances, instruments, cards) goes before all years. */
const FIRST_YEAR = 2020;
const LAST_YEAR = 2040;
const years = Array.from({ length: LAST_YEAR - FIRST_YEAR + 1 }, (_, n) => FIRST_YEAR + n);

/**
 * An item is never changed: laptops may insert and read. What lists show is kept by the server itself, in the same step. Inserts wait for each other (they
 * are short), so that numbers in `seq` appear in their order and a reader who goes on behind a number misses none.
 */
const items: OfficeMigration = {
  version: 1,
  sql: `
CREATE TABLE office (only_one boolean PRIMARY KEY DEFAULT true CHECK (only_one), id text NOT NULL, name text NOT NULL, version integer NOT NULL);
CREATE TABLE item (
  seq bigint GENERATED ALWAYS AS IDENTITY,
  kind text NOT NULL CHECK (kind IN ('visit', 'appliance', 'instrument', 'bench-test', 'figures-card', 'knowledge', 'tombstone')),
  id text NOT NULL CHECK (length(id) BETWEEN 1 AND 100),
  hash bytea NOT NULL,
  day date NOT NULL,
  appliance_id text,
  number integer,
  wall_ms bigint NOT NULL,
  changed_ms bigint NOT NULL,
  removals text[] NOT NULL,
  content text NOT NULL CHECK (sha256(convert_to(content, 'UTF8')) = hash),
  sent timestamptz NOT NULL DEFAULT now(),
  sent_by text NOT NULL DEFAULT session_user,
  PRIMARY KEY (kind, id, hash, day)
) PARTITION BY RANGE (day);
CREATE TABLE item_lasting PARTITION OF item FOR VALUES FROM (MINVALUE) TO ('1970-01-02');
CREATE TABLE item_before_${FIRST_YEAR} PARTITION OF item FOR VALUES FROM ('1970-01-02') TO ('${FIRST_YEAR}-01-01');
${years.map((year) => `CREATE TABLE item_${year} PARTITION OF item FOR VALUES FROM ('${year}-01-01') TO ('${year + 1}-01-01');`).join('\n')}
CREATE TABLE item_later PARTITION OF item DEFAULT;
CREATE INDEX item_by_appliance ON item (appliance_id, day DESC);
CREATE INDEX item_by_seq ON item (seq);
CREATE INDEX item_by_number ON item (number) WHERE number IS NOT NULL;

CREATE TABLE listed (
  appliance_id text PRIMARY KEY,
  name text NOT NULL DEFAULT '', place text NOT NULL DEFAULT '', owner text NOT NULL DEFAULT '', serial text NOT NULL DEFAULT '',
  due text, changed_ms bigint NOT NULL DEFAULT -1,
  visits integer NOT NULL DEFAULT 0, last_visit_ms bigint,
  search text NOT NULL DEFAULT ''
);
CREATE INDEX listed_by_due ON listed (due) WHERE due IS NOT NULL;
CREATE INDEX listed_by_visit ON listed (last_visit_ms DESC NULLS LAST);

CREATE FUNCTION in_order() RETURNS trigger LANGUAGE plpgsql AS $$
BEGIN
  PERFORM pg_advisory_xact_lock(1179407685);
  RETURN NULL;
END $$;
CREATE TRIGGER item_in_order BEFORE INSERT ON item FOR EACH STATEMENT EXECUTE FUNCTION in_order();

-- a state from before a removal of the person does not come back
CREATE FUNCTION not_removed() RETURNS trigger LANGUAGE plpgsql SECURITY DEFINER SET search_path = ${SCHEMA}, pg_temp AS $$
BEGIN
  IF EXISTS (SELECT FROM item WHERE kind = 'tombstone' AND appliance_id = NEW.appliance_id AND day < '1970-01-02' AND NOT removals <@ NEW.removals) THEN
    RETURN NULL;
  END IF;
  RETURN NEW;
END $$;
CREATE TRIGGER item_not_removed BEFORE INSERT ON item FOR EACH ROW WHEN (NEW.kind = 'appliance') EXECUTE FUNCTION not_removed();

CREATE FUNCTION list_item() RETURNS trigger LANGUAGE plpgsql SECURITY DEFINER SET search_path = ${SCHEMA}, pg_temp AS $$
DECLARE said jsonb;
BEGIN
  IF NEW.kind = 'visit' THEN
    IF NOT EXISTS (SELECT FROM item WHERE kind = 'visit' AND id = NEW.id AND day = NEW.day AND hash <> NEW.hash) THEN
      INSERT INTO listed (appliance_id, visits, last_visit_ms) VALUES (NEW.appliance_id, 1, NEW.wall_ms)
      ON CONFLICT (appliance_id) DO UPDATE SET visits = listed.visits + 1, last_visit_ms = greatest(listed.last_visit_ms, NEW.wall_ms);
    END IF;
  ELSIF NEW.kind = 'tombstone' THEN
    DELETE FROM item WHERE kind = 'appliance' AND appliance_id = NEW.appliance_id AND day < '1970-01-02' AND NOT NEW.removals <@ removals;
    UPDATE listed SET name = '', place = '', owner = '', search = '', changed_ms = -1
    WHERE appliance_id = NEW.appliance_id
      AND NOT EXISTS (SELECT FROM item WHERE kind = 'appliance' AND appliance_id = NEW.appliance_id AND day < '1970-01-02');
  ELSE
    said := NEW.content::jsonb -> 'appliance';
    INSERT INTO listed (appliance_id, name, place, owner, serial, due, changed_ms, search)
    VALUES (NEW.appliance_id, said ->> 'name', coalesce(said ->> 'place', ''), coalesce(said ->> 'owner', ''), coalesce(said ->> 'serial', ''),
      said ->> 'nextDue', NEW.changed_ms, search_text(said))
    ON CONFLICT (appliance_id) DO UPDATE SET name = excluded.name, place = excluded.place, owner = excluded.owner, serial = excluded.serial,
      due = excluded.due, changed_ms = excluded.changed_ms, search = excluded.search
    WHERE listed.changed_ms <= excluded.changed_ms;
  END IF;
  RETURN NULL;
END $$;
-- lower case, without accents
CREATE FUNCTION folded(said text) RETURNS text LANGUAGE sql IMMUTABLE AS
  $$ SELECT lower(regexp_replace(normalize(said, NFKD), '[\\u0300-\\u036f]', '', 'g')) $$;
CREATE FUNCTION search_text(said jsonb) RETURNS text LANGUAGE sql IMMUTABLE SET search_path = ${SCHEMA}, pg_temp AS
  $$ SELECT folded(concat_ws(' ', said ->> 'name', said ->> 'place', said ->> 'owner', said ->> 'serial')) $$;
CREATE TRIGGER item_listed AFTER INSERT ON item FOR EACH ROW
  WHEN (NEW.appliance_id IS NOT NULL AND NEW.kind IN ('visit', 'appliance', 'tombstone')) EXECUTE FUNCTION list_item();

GRANT USAGE ON SCHEMA ${SCHEMA} TO ${LAPTOP_ROLE}, ${OFFICE_ROLE};
GRANT SELECT ON office, item, listed TO ${LAPTOP_ROLE};
GRANT INSERT (kind, id, hash, day, appliance_id, number, wall_ms, changed_ms, removals, content) ON item TO ${LAPTOP_ROLE};
GRANT ALL ON office, item, listed TO ${OFFICE_ROLE};
`,
};

export const officeMigrations: readonly OfficeMigration[] = [items];
export const POSTGRES_VERSION = officeMigrations.length;
/** the server's own number for version 15 */
export const OLDEST_SERVER = 150_000;
