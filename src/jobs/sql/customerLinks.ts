import type { CustomerLink, NewCustomerLink } from '../customerTypes.ts';
import { StoreRequestError } from '../storeErrors.ts';
import { one, type Transaction } from './database.ts';
import { writeHistory } from './writeHistory.ts';

interface LinkRow {
  readonly id: number;
  readonly job_id: number;
  readonly token_sha256: string;
  readonly made_at: number;
  readonly made_by: string;
  readonly expires_at: number;
  readonly revoked_at: number | null;
  readonly revoked_by: string | null;
  readonly language: string | null;
  readonly units: CustomerLink['units'];
}

export async function makeCustomerLink(transaction: Transaction, link: NewCustomerLink): Promise<CustomerLink> {
  const { jobId, tokenSha256, by, validForMs, language, units } = link;
  if (!/^[0-9a-f]{64}$/.test(tokenSha256)) throw new StoreRequestError('A link is kept by the hash of its token.');
  if (!(validForMs > 0)) throw new StoreRequestError('A link is valid for some time.');
  const job = await one<{ id: number }>(transaction, `SELECT id FROM jobs WHERE id = ?${transaction.forUpdate}`, [
    jobId,
  ]);
  if (job === null) throw new StoreRequestError(`There is no job ${jobId}.`);
  const now = await transaction.now();
  const row = await one<LinkRow>(
    transaction,
    `INSERT INTO customer_links (job_id, token_sha256, made_at, made_by, expires_at, language, units)
      VALUES (?, ?, ?, ?, ?, ?, ?) RETURNING *`,
    [jobId, tokenSha256, now, by, now + Math.round(validForMs), language, units],
  );
  const made = linkOf(row!, now);
  const detail = { linkId: made.id, expiresAt: made.expiresAt };
  await writeHistory(transaction, { jobId, revision: null, at: now, who: by, what: 'linkMade', detail });
  return made;
}

export async function customerLinkBy(transaction: Transaction, tokenSha256: string): Promise<CustomerLink | null> {
  const sought = 'SELECT * FROM customer_links WHERE token_sha256 = ?';
  const row = await one<LinkRow>(transaction, sought, [tokenSha256]);
  return row === null ? null : linkOf(row, await transaction.now());
}

/** The latest first. */
export async function customerLinks(transaction: Transaction, jobId: number | null): Promise<CustomerLink[]> {
  const now = await transaction.now();
  const rows = await transaction.all<LinkRow>(
    `SELECT * FROM customer_links${jobId === null ? '' : ' WHERE job_id = ?'} ORDER BY id DESC`,
    jobId === null ? [] : [jobId],
  );
  return rows.map((row) => linkOf(row, now));
}

/** False when it was revoked before, or is not there. */
export async function revokeCustomerLink(transaction: Transaction, linkId: number, by: string): Promise<boolean> {
  const now = await transaction.now();
  const row = await one<LinkRow>(
    transaction,
    'UPDATE customer_links SET revoked_at = ?, revoked_by = ? WHERE id = ? AND revoked_at IS NULL RETURNING *',
    [now, by, linkId],
  );
  if (row === null) return false;
  const line = { jobId: row.job_id, revision: null, at: now, who: by, what: 'linkRevoked', detail: { linkId } };
  await writeHistory(transaction, line);
  return true;
}

function linkOf(row: LinkRow, now: number): CustomerLink {
  return {
    id: row.id,
    jobId: row.job_id,
    tokenSha256: row.token_sha256,
    madeAt: row.made_at,
    madeBy: row.made_by,
    expiresAt: row.expires_at,
    revoked: row.revoked_at === null ? null : { at: row.revoked_at, by: row.revoked_by ?? '' },
    isOpen: row.revoked_at === null && row.expires_at > now,
    language: row.language,
    units: row.units,
  };
}
