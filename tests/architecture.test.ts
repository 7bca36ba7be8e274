import { readdirSync, readFileSync } from 'node:fs';
import { dirname, join, relative } from 'node:path';
import { fileURLToPath } from 'node:url';
import { describe, expect, it } from 'vitest';
import { checks } from '../src/checks/index.ts';

const root = dirname(dirname(fileURLToPath(import.meta.url)));

/** Everything a job goes through, from units to the notes. */
const leftOfInspect = [
  'src/units',
  'src/geometry',
  'src/raster',
  'src/colour',
  'src/mesh',
  'src/findings',
  'src/ticket',
  'src/artwork',
  'src/readers',
  'src/plates',
  'src/measurements',
  'src/checks',
  'src/pressPlan',
  'src/report',
  'src/fixNotes',
  'src/plateArchive',
  'src/revisions',
];

/** What each folder may import besides itself. */
const mayImport: Record<string, readonly string[]> = {
  'src/units': [],
  'src/geometry': ['src/units'],
  'src/raster': ['src/units', 'src/geometry'],
  'src/colour': ['src/units'],
  'src/mesh': ['src/units'],
  'src/findings': ['src/units', 'src/geometry'],
  'src/ticket': ['src/units', 'src/geometry', 'src/colour', 'src/mesh', 'src/findings'],
  'src/artwork': ['src/units', 'src/geometry', 'src/raster', 'src/colour', 'src/findings'],
  'src/readers': ['src/units', 'src/geometry', 'src/raster', 'src/colour', 'src/artwork'],
  'src/plates': ['src/units', 'src/geometry', 'src/raster', 'src/colour', 'src/artwork'],
  'src/measurements': ['src/units', 'src/geometry', 'src/raster', 'src/colour', 'src/artwork', 'src/plates'],
  'src/checks': [
    'src/units',
    'src/geometry',
    'src/raster',
    'src/colour',
    'src/mesh',
    'src/findings',
    'src/ticket',
    'src/artwork',
    'src/measurements',
  ],
  'src/pressPlan': ['src/units', 'src/geometry', 'src/colour', 'src/mesh', 'src/findings', 'src/ticket', 'src/artwork'],
  'src/report': [
    'src/units',
    'src/geometry',
    'src/raster',
    'src/colour',
    'src/mesh',
    'src/findings',
    'src/ticket',
    'src/artwork',
    'src/measurements',
    'src/checks',
    'src/pressPlan',
  ],
  'src/plateArchive': [
    'src/units',
    'src/geometry',
    'src/raster',
    'src/colour',
    'src/artwork',
    'src/plates',
    'src/report',
  ],
  'src/revisions': [
    'src/units',
    'src/geometry',
    'src/raster',
    'src/colour',
    'src/findings',
    'src/report',
    'src/plateArchive',
  ],
  'src/fixNotes': ['src/units', 'src/geometry', 'src/colour', 'src/findings', 'src/report', 'src/revisions'],
  'src/inspect': leftOfInspect,
  'src/jobs': [...leftOfInspect, 'src/inspect'],
  'src/intake': [...leftOfInspect, 'src/inspect', 'src/jobs'],
  'src/post': [...leftOfInspect, 'src/inspect', 'src/jobs'],
  'web/shared': ['src/findings', 'src/report'],
  'web/server': ['src', 'web/shared'],
  'web/page': ['src/findings', 'src/report', 'web/shared'],
  'web/customer': ['web/shared'],
  cli: ['src', 'web/server', 'web/shared'],
};

/** From these folders only types may come. */
const typesOnly: Record<string, readonly string[]> = {
  'src/fixNotes': ['src/revisions'],
  'src/revisions': ['src/report'],
  'src/plateArchive': ['src/report'],
  'src/report': ['src/measurements', 'src/checks'],
  'web/shared': ['src/findings', 'src/report'],
  cli: ['web/shared'],
};

const reachesOut =
  /^node:(fs|fs\/promises|net|http|http2|https|dns|tls|dgram|child_process|os|process|worker_threads|cluster|timers|perf_hooks|readline|tty)$/;
const globalsThatReachOut =
  /(^|[^.\w'"`])(console\.|process\.|Date\.now\(|new Date\(\)|performance\.|Math\.random\(|fetch\(|setInterval\()/;
/** Files that may read the program's own parts, and why. */
const ownParts = new Set([
  'src/raster/pdfiumModule.ts',
  'src/raster/kernels/kernelModule.ts',
  'src/raster/kernels/outlineModule.ts',
  'src/report/assets/loadFonts.ts',
]);

/** Folders whose work is with files, sockets, clocks and processes. */
const reachOut = ['src/jobs/', 'src/intake/', 'src/post/'];

interface Import {
  readonly specifier: string;
  readonly onlyTypes: boolean;
}

function sourceFiles(folder: string): string[] {
  return readdirSync(join(root, folder), { recursive: true, withFileTypes: true })
    .filter((entry) => entry.isFile() && /\.tsx?$/.test(entry.name))
    .map((entry) => relative(root, join(entry.parentPath, entry.name)))
    .filter((file) => !file.startsWith('src/raster/kernels/assembly/'))
    .sort();
}

function importsOf(file: string): Import[] {
  const text = readFileSync(join(root, file), 'utf8');
  return [...text.matchAll(/^(?:import|export)\s+(type\s+)?(?:[^'";]*?\sfrom\s+)?'([^']+)';/gm)].map((match) => ({
    specifier: match[2],
    onlyTypes: match[1] !== undefined,
  }));
}

function folderOf(file: string): string {
  const parts = file.split('/');
  return parts[0] === 'src' || parts[0] === 'web' ? `${parts[0]}/${parts[1]}` : parts[0];
}

function codeOf(file: string): string {
  return readFileSync(join(root, file), 'utf8')
    .replace(/\/\*[\s\S]*?\*\//g, '')
    .replace(/(^|\s)\/\/.*$/gm, '$1');
}

const files = [...sourceFiles('src'), ...sourceFiles('cli'), ...sourceFiles('web')];

describe('architecture', () => {
  it('imports go one way', () => {
    const wrong: string[] = [];
    for (const file of files) {
      const from = folderOf(file);
      for (const { specifier, onlyTypes } of importsOf(file)) {
        if (!specifier.startsWith('.')) continue;
        const target = folderOf(relative(root, join(root, dirname(file), specifier)));
        const allowed =
          target === from || mayImport[from]?.some((folder) => target === folder || target.startsWith(`${folder}/`));
        const typesWanted = typesOnly[from]?.includes(target) && !onlyTypes;
        if (!allowed || typesWanted)
          wrong.push(`${file} imports ${specifier}${typesWanted ? ' for more than its types' : ''}`);
      }
    }
    expect(wrong).toEqual([]);
  });

  it('every folder of src has its place in the order', () => {
    const folders = readdirSync(join(root, 'src'), { withFileTypes: true }).map((entry) => `src/${entry.name}`);
    expect(folders.filter((folder) => mayImport[folder] === undefined)).toEqual([]);
  });

  it('src touches no file, network, clock, console or process', () => {
    const wrong: string[] = [];
    const within = files.filter(
      (name) => name.startsWith('src/') && !ownParts.has(name) && !reachOut.some((folder) => name.startsWith(folder)),
    );
    for (const file of within) {
      for (const { specifier } of importsOf(file))
        if (reachesOut.test(specifier)) wrong.push(`${file} imports ${specifier}`);
      const match = globalsThatReachOut.exec(codeOf(file));
      if (match) wrong.push(`${file} uses ${match[2]}`);
    }
    expect(wrong).toEqual([]);
  });

  it('relative imports name their file with its extension', () => {
    const wrong = files.flatMap((file) =>
      importsOf(file)
        .filter(({ specifier }) => specifier.startsWith('.') && !/\.(tsx?|css)$/.test(specifier))
        .map(({ specifier }) => `${file}: ${specifier}`),
    );
    expect(wrong).toEqual([]);
  });

  it('measurements hold no limits and checks hold no pixel loops', () => {
    const wrong = files.filter(
      (file) =>
        (file.startsWith('src/measurements/') &&
          importsOf(file).some(({ specifier }) => specifier.includes('/ticket/'))) ||
        (file.startsWith('src/checks/') &&
          importsOf(file).some(
            ({ specifier }) => /\/(plates|raster)\//.test(specifier) && !specifier.endsWith('/pixelGrid.ts'),
          )),
    );
    expect(wrong).toEqual([]);
  });

  it('each check has its file, its cases and its line in the README', () => {
    const readme = readFileSync(join(root, 'README.md'), 'utf8');
    const named = new Set(checks.map(({ id }) => id));
    const kebabFiles = readdirSync(join(root, 'src/checks'))
      .filter((name) => /^[a-z]+(-[a-z]+)+\.ts$/.test(name))
      .map((name) => name.slice(0, -3));
    expect(kebabFiles.filter((id) => !named.has(id))).toEqual([]);
    for (const { id } of checks) {
      expect(readdirSync(join(root, 'src/checks')), id).toContain(`${id}.ts`);
      expect(readdirSync(join(root, 'tests/checks')), id).toContain(`${id}.cases.ts`);
      expect(readme, `README.md does not mention ${id}`).toContain(`\`${id}\``);
    }
    expect(named.size).toBe(checks.length);
  });

  it('files stay small enough to hold one idea', () => {
    const long = [...files, ...sourceFiles('tests')].filter(
      (file) => readFileSync(join(root, file), 'utf8').split('\n').length > 450,
    );
    expect(long).toEqual([]);
  });

  it('the top level holds what it should', () => {
    const allowed = [
      'README.md',
      'DEVELOPERS.md',
      'LICENSE',
      'NOTICE',
      'package.json',
      'package-lock.json',
      'tsconfig.json',
      'src',
      'tests',
      'fixtures',
      'cli',
      'web',
      'node_modules',
      'dist',
      'out',
    ];
    expect(readdirSync(root).filter((name) => !name.startsWith('.') && !allowed.includes(name))).toEqual([]);
  });
});
