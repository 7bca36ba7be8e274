import { execFileSync } from 'node:child_process';
import { chmodSync, existsSync, mkdtempSync, readdirSync, rmSync } from 'node:fs';
import { createServer } from 'node:net';
import { tmpdir, userInfo } from 'node:os';
import { join } from 'node:path';
import pg from 'pg';
import { sayMissing } from './oraclePrograms.ts';

const versions = '/usr/lib/postgresql';

export interface PostgresCluster {
  /** Connection string of a new, empty database. */
  makeDatabase(): Promise<string>;
  /** Ends all connections to all databases but its own, as an administrator or a broken cable would. */
  cutConnections(): Promise<number>;
  stop(how: 'fast' | 'immediate'): void;
  start(): void;
  remove(): void;
}

/** A private PostgreSQL on a port of its own; null, said aloud, where PostgreSQL is not installed. */
export async function startPostgres(): Promise<PostgresCluster | null> {
  const programs = findPrograms();
  if (programs === null) {
    sayMissing('postgresql');
    return null;
  }
  const folder = mkdtempSync(join(tmpdir(), 'plateglass-postgres-'));
  if (userInfo().uid === 0) {
    chmodSync(folder, 0o711);
    execFileSync('chown', ['postgres', folder]);
  }
  const data = join(folder, 'data');
  const port = await freePort();
  run(programs, 'initdb', ['-D', data, '-U', 'postgres', '-A', 'trust', '-E', 'UTF8', '--no-sync']);
  // The system does not break down in these tests, so what PostgreSQL has written is there without waiting for disks.
  const settings = `-p ${port} -c listen_addresses=127.0.0.1 -c unix_socket_directories='' -c fsync=off -c shared_buffers=16MB`;
  const start = () => run(programs, 'pg_ctl', ['-D', data, '-w', '-l', join(folder, 'log'), '-o', settings, 'start']);
  const stop = (how: string) => run(programs, 'pg_ctl', ['-D', data, '-w', '-m', how, 'stop']);
  start();
  const base = `postgres://postgres@127.0.0.1:${port}`;
  let databases = 0;
  return {
    async makeDatabase() {
      const name = `shop${++databases}`;
      await once(`${base}/postgres`, `CREATE DATABASE ${name}`);
      return `${base}/${name}`;
    },
    async cutConnections() {
      const rows = await once(
        `${base}/postgres`,
        `SELECT pg_terminate_backend(pid) FROM pg_stat_activity WHERE application_name = 'plateglass'`,
      );
      return rows.length;
    },
    stop,
    start,
    remove() {
      if (existsSync(join(data, 'postmaster.pid'))) stop('immediate');
      rmSync(folder, { recursive: true, force: true });
    },
  };
}

async function once(connectionString: string, sql: string): Promise<unknown[]> {
  const client = new pg.Client({ connectionString });
  await client.connect();
  try {
    return (await client.query(sql)).rows;
  } finally {
    await client.end();
  }
}

function findPrograms(): string | null {
  if (!existsSync(versions)) return null;
  const found = readdirSync(versions)
    .map((version) => join(versions, version, 'bin'))
    .filter((folder) => existsSync(join(folder, 'initdb')));
  return found.sort().at(-1) ?? null;
}

/** PostgreSQL refuses to run as root. */
function run(programs: string, program: string, parameters: readonly string[]): void {
  const path = join(programs, program);
  if (userInfo().uid === 0) runQuietly('runuser', ['-u', 'postgres', '--', path, ...parameters]);
  else runQuietly(path, parameters);
}

function runQuietly(program: string, parameters: readonly string[]): void {
  execFileSync(program, parameters, { stdio: 'ignore', cwd: tmpdir() });
}

function freePort(): Promise<number> {
  return new Promise((resolve, reject) => {
    const server = createServer();
    server.once('error', reject);
    server.listen(0, '127.0.0.1', () => {
      const { port } = server.address() as { port: number };
      server.close(() => resolve(port));
    });
  });
}
