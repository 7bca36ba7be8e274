/**
 * Tables of the store, for SQLite and PostgreSQL alike: each entry takes the store from one version to the next and is
 * never changed once a version is out. `{{id}}` stands for the type of an id the database gives out. Times are ms since
 * 1970, what has no columns of its own is JSON text, `…_folded` is `foldText` of the column before.
 */
export const migrations: readonly (readonly string[])[] = [
  [
    'CREATE TABLE store_info (name TEXT PRIMARY KEY, value TEXT NOT NULL)',
    `CREATE TABLE jobs (
      id {{id}}, name TEXT NOT NULL UNIQUE, name_folded TEXT NOT NULL, customer TEXT, customer_folded TEXT,
      latest_revision BIGINT NOT NULL)`,
    `CREATE TABLE revisions (
      id {{id}}, job_id BIGINT NOT NULL REFERENCES jobs (id), revision BIGINT NOT NULL, content_key TEXT NOT NULL,
      source_kind TEXT NOT NULL, source_detail TEXT NOT NULL, size_class TEXT NOT NULL, size_bytes BIGINT NOT NULL,
      arrived_at BIGINT NOT NULL, taken_in_at BIGINT NOT NULL,
      state TEXT NOT NULL, claimable_from BIGINT NOT NULL, attempt BIGINT NOT NULL, failures BIGINT NOT NULL,
      worker_id TEXT, lease_ms BIGINT, lease_until BIGINT, claimed_at BIGINT,
      verdict TEXT, reason TEXT, standing TEXT, finished_at BIGINT, worked_ms BIGINT, timings TEXT NOT NULL,
      place_at TEXT, moving_to TEXT, move_attempt BIGINT NOT NULL, move_worker_id TEXT, move_lease_ms BIGINT,
      move_lease_until BIGINT,
      UNIQUE (job_id, revision))`,
    'CREATE INDEX revisions_by_state ON revisions (state, id)',
    `CREATE INDEX revisions_that_move ON revisions (id) WHERE moving_to IS NOT NULL`,
    'CREATE INDEX revisions_by_arrival ON revisions (arrived_at)',
    `CREATE TABLE files (
      revision_id BIGINT NOT NULL REFERENCES revisions (id), position BIGINT NOT NULL, role TEXT NOT NULL,
      name TEXT NOT NULL, size_bytes BIGINT NOT NULL, sha256 TEXT NOT NULL, stored_path TEXT NOT NULL,
      PRIMARY KEY (revision_id, position))`,
    `CREATE TABLE artifacts (
      revision_id BIGINT NOT NULL REFERENCES revisions (id), position BIGINT NOT NULL, kind TEXT NOT NULL,
      name TEXT NOT NULL, sha256 TEXT NOT NULL, size_bytes BIGINT NOT NULL,
      PRIMARY KEY (revision_id, position))`,
    `CREATE TABLE revision_inks (
      revision_id BIGINT NOT NULL REFERENCES revisions (id), position BIGINT NOT NULL, name TEXT NOT NULL,
      name_folded TEXT NOT NULL, PRIMARY KEY (revision_id, position))`,
    `CREATE TABLE tries (
      revision_id BIGINT NOT NULL REFERENCES revisions (id), attempt BIGINT NOT NULL, worker_id TEXT NOT NULL,
      size_class TEXT NOT NULL, started_at BIGINT NOT NULL, PRIMARY KEY (revision_id, attempt))`,
    'CREATE INDEX tries_by_worker ON tries (worker_id, started_at)',
    `CREATE TABLE decisions (
      id {{id}}, revision_id BIGINT NOT NULL REFERENCES revisions (id), kind TEXT NOT NULL, decided_by TEXT NOT NULL,
      reason TEXT NOT NULL, finding TEXT, at BIGINT NOT NULL, undone_at BIGINT, undone_by TEXT, undone_reason TEXT)`,
    'CREATE INDEX decisions_by_revision ON decisions (revision_id)',
    `CREATE TABLE history (
      id {{id}}, job_id BIGINT NOT NULL REFERENCES jobs (id), revision BIGINT, at BIGINT NOT NULL, who TEXT NOT NULL,
      what TEXT NOT NULL, detail TEXT NOT NULL)`,
    'CREATE INDEX history_by_job ON history (job_id, id)',
    `CREATE TABLE effects (
      id {{id}}, effect_key TEXT NOT NULL UNIQUE, kind TEXT NOT NULL, payload TEXT NOT NULL,
      revision_id BIGINT REFERENCES revisions (id), created_at BIGINT NOT NULL,
      state TEXT NOT NULL, claimable_from BIGINT NOT NULL, attempt BIGINT NOT NULL, failures BIGINT NOT NULL,
      worker_id TEXT, lease_ms BIGINT, lease_until BIGINT, reason TEXT, done_at BIGINT)`,
    'CREATE INDEX effects_by_state ON effects (state, id)',
    'CREATE INDEX effects_by_revision ON effects (revision_id)',
  ],
  [
    `CREATE TABLE customer_links (
      id {{id}}, job_id BIGINT NOT NULL REFERENCES jobs (id), token_sha256 TEXT NOT NULL UNIQUE,
      made_at BIGINT NOT NULL, made_by TEXT NOT NULL, expires_at BIGINT NOT NULL, revoked_at BIGINT, revoked_by TEXT,
      language TEXT, units TEXT)`,
    'CREATE INDEX customer_links_by_job ON customer_links (job_id)',
    `CREATE TABLE customer_answers (
      id {{id}}, revision_id BIGINT NOT NULL REFERENCES revisions (id),
      link_id BIGINT NOT NULL REFERENCES customer_links (id), kind TEXT NOT NULL, content_key TEXT NOT NULL,
      name TEXT NOT NULL, remark TEXT NOT NULL, at BIGINT NOT NULL)`,
    'CREATE INDEX customer_answers_by_revision ON customer_answers (revision_id)',
    // Kind of the last answer.
    'ALTER TABLE revisions ADD COLUMN customer_answer TEXT',
    'CREATE INDEX artifacts_by_hash ON artifacts (sha256)',
  ],
];

/** All tables, each behind those it refers to. */
export const tablesInOrder = [
  'store_info',
  'jobs',
  'revisions',
  'files',
  'artifacts',
  'revision_inks',
  'tries',
  'decisions',
  'history',
  'effects',
  'customer_links',
  'customer_answers',
] as const;

/** Those whose ids the database gives out. */
export const tablesWithIds = [
  'jobs',
  'revisions',
  'decisions',
  'history',
  'effects',
  'customer_links',
  'customer_answers',
] as const;
