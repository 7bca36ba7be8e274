import { describe, expect, it } from 'vitest';
import { drawFilm, readFilm } from './support/drawFilm.ts';
import { spot, tinyPdf } from './support/tinyPdf.ts';

const names = async (bytes: Uint8Array) =>
  (await readFilm(bytes)).inks.map(({ name, kind, used }) => `${name}/${kind}/${used}`);

describe('inks of a PDF', () => {
  it('lists what is painted, and as unused what is only declared', async () => {
    const resources = `/ColorSpace<</L ${spot('Lagoon')}/C ${spot('Coral')}>>`;
    expect(await names(tinyPdf({ content: '/L cs 1 scn 0 0 10 10 re f', resources }))).toEqual([
      'Lagoon/spot/true',
      'Coral/spot/false',
    ]);
  });

  it('does not count what lies outside the page, is clipped away, off or without tint', async () => {
    const resources = `/ColorSpace<</L ${spot('Lagoon')}/C ${spot('Coral')}/N ${spot('Night')}/S ${spot('Sun')}>>`;
    const content =
      '/L cs 1 scn 0 0 10 10 re f /C cs 1 scn 500 0 10 10 re f q 0 0 5 5 re W n /N cs 1 scn 50 50 9 9 re f Q /S cs 0 scn 20 20 9 9 re f';
    const film = await readFilm(tinyPdf({ content, resources }));
    expect(film.inks.filter(({ used }) => used).map(({ name }) => name)).toEqual(['Lagoon']);
    expect(film.objects.map(({ hidden }) => hidden)).toEqual([null, 'outsidePage', 'clippedAway', null]);
    expect(film.objects.map(({ isWhite }) => isWhite)).toEqual([false, false, false, true]);
  });

  it('reads names with escapes, in UTF-8, UTF-16 and Latin-1', async () => {
    const spaces = ['Bach#20gr#c3#bcn', 'Bl#fcte', '#fe#ff#00S#00e#00e', 'A#23b']
      .map((name, k) => `/N${k} ${spot(name)}`)
      .join('');
    const content = [0, 1, 2, 3].map((k) => `/N${k} cs 1 scn ${10 * k} 0 9 9 re f`).join(' ');
    const film = await readFilm(tinyPdf({ content, resources: `/ColorSpace<<${spaces}>>` }));
    expect(film.inks.map(({ name }) => name)).toEqual(['Bach grün', 'Blüte', 'See', 'A#b']);
  });

  it('finds colorants of DeviceN, NChannel and Indexed spaces, and takes process names for process inks', async () => {
    const transform = '10 0 R';
    const spaces = [
      `/N [/DeviceN[/Lagoon/None/Black]/DeviceCMYK ${transform}]`,
      `/H [/DeviceN[/Cyan/Coral/Night]/DeviceCMYK ${transform}<</Subtype/NChannel/Process<</ColorSpace/DeviceCMYK/Components[/Cyan]>>>>]`,
      `/I [/Indexed [/DeviceN[/Sun/Leaf/Rose]/DeviceCMYK ${transform}] 1 <000000ff8000>]`,
    ];
    const content = '/N cs 1 1 1 scn 0 0 9 9 re f /H cs 1 1 0 scn 10 0 9 9 re f /I cs 1 scn 20 0 9 9 re f';
    const bytes = tinyPdf({ content, resources: `/ColorSpace<<${spaces.join('')}>>` }, [
      { entries: '/FunctionType 4/Domain[0 1 0 1 0 1]/Range[0 1 0 1 0 1 0 1]', data: '{0}' },
    ]);
    expect(await names(bytes)).toEqual([
      'Lagoon/spot/true',
      'Black/process/true',
      'Cyan/process/true',
      'Coral/spot/true',
      'Night/spot/false',
      'Sun/spot/true',
      'Leaf/spot/true',
      'Rose/spot/false',
    ]);
    const drawn = await drawFilm(await readFilm(bytes), ['spot:Sun', 'spot:Leaf', 'spot:Rose'], 72);
    expect(['spot:Sun', 'spot:Leaf', 'spot:Rose'].map((key) => drawn.at(key, 25, 95))).toEqual([255, 128, 0]);
  });

  it('shows a spot in the colour its tint transform gives', async () => {
    const resources = `/ColorSpace<</L [/Separation/Lagoon/DeviceRGB<</FunctionType 2/Domain[0 1]/C0[1 1 1]/C1[0.2 0.4 0.6]/N 1>>]>>`;
    const film = await readFilm(tinyPdf({ content: '/L cs 1 scn 0 0 9 9 re f', resources }));
    expect(film.inks[0].displayHex).toBe('#336699');
  });

  it('takes unnamed solid colours for flat inks, white for none', async () => {
    const content = '0.2 0.4 0.6 rg 0 0 10 10 re f 1 1 1 rg 2 2 4 4 re f 0 0 0 rg 20 0 10 10 re f';
    const film = await readFilm(tinyPdf({ content }));
    expect(film.inks).toEqual([
      { key: '#336699', name: '#336699', kind: 'flat', displayHex: '#336699', used: true },
      { key: 'white', name: 'white', kind: 'flat', displayHex: '#ffffff', used: true },
      { key: '#000000', name: '#000000', kind: 'flat', displayHex: '#000000', used: true },
    ]);
    expect(film.objects.map(({ isWhite }) => isWhite)).toEqual([false, true, false]);
    const drawn = await drawFilm(film, ['#336699', 'white', '#000000'], 72);
    expect([drawn.area('#336699'), drawn.area('white'), drawn.area('#000000')]).toEqual([84, 16, 100]);
  });

  it('notes art in too many colours instead of making a plate of each', async () => {
    let content = '';
    for (let k = 0; k < 100; k++) content += `${k / 100} 0.5 0.5 rg ${k} 0 1 1 re f\n`;
    const film = await readFilm(tinyPdf({ content }));
    expect(film.inks.length).toBe(32);
    expect(film.notes.map(({ code, affects }) => `${code}/${affects}`)).toContain('many-colours/inks');
  });

  it('notes a picture in RGB, which is on no plate and hides what lies below', async () => {
    const image = {
      entries: '/Subtype/Image/Width 1/Height 1/BitsPerComponent 8/ColorSpace/DeviceRGB',
      data: Uint8Array.of(10, 20, 30),
    };
    const resources = `/ColorSpace<</L ${spot('Lagoon')}>>/XObject<</I 10 0 R>>`;
    const content = '/L cs 1 scn 0 0 100 100 re f q 20 0 0 20 10 10 cm /I Do Q';
    const film = await readFilm(tinyPdf({ content, resources }, [image]));
    expect(film.notes.map(({ code, affects }) => `${code}/${affects}`)).toContain('colour-picture/inks');
    expect((await drawFilm(film, ['spot:Lagoon'], 72)).area('spot:Lagoon')).toBe(10000 - 400);
  });

  it('prints the registration colour on every plate and lists it apart', async () => {
    const resources = `/ColorSpace<</L ${spot('Lagoon')}/C ${spot('Coral')}/A ${spot('All')}>>`;
    const content = '/L cs 1 scn 0 0 10 10 re f /C cs 1 scn 20 0 10 10 re f /A cs 1 scn 50 50 5 5 re f';
    const film = await readFilm(tinyPdf({ content, resources }));
    expect(film.inks.find(({ key }) => key === 'all')).toMatchObject({ kind: 'registration', used: true });
    const drawn = await drawFilm(film, ['spot:Lagoon', 'spot:Coral', 'all'], 72);
    expect([drawn.area('spot:Lagoon'), drawn.area('spot:Coral'), drawn.area('all')]).toEqual([125, 125, 25]);
  });

  it('walks forms with inherited colour and resources, patterns and Type 3 letters', async () => {
    const resources = `/ColorSpace<</L ${spot('Lagoon')}/C ${spot('Coral')}>>/XObject<</F 10 0 R>>/Font<</T 12 0 R>>`;
    const content = '/L cs 1 scn /F Do /C cs 1 scn BT /T 10 Tf 50 50 Td (aa) Tj ET';
    const bytes = tinyPdf({ content, resources }, [
      { entries: '/Subtype/Form/BBox[0 0 100 100]/Matrix[2 0 0 2 0 0]', data: '5 5 10 10 re f' },
      { entries: '', data: '1000 0 0 0 500 1000 d1 0 0 500 1000 re f' },
      '<</Type/Font/Subtype/Type3/FontBBox[0 0 1000 1000]/FontMatrix[0.001 0 0 0.001 0 0]/FirstChar 97/LastChar 97/Widths[1000]/Encoding<</Differences[97/a]>>/CharProcs<</a 11 0 R>>/Resources<<>>>>',
    ]);
    const film = await readFilm(bytes);
    const drawn = await drawFilm(film, ['spot:Lagoon', 'spot:Coral'], 144);
    expect([drawn.area('spot:Lagoon') / 4, drawn.area('spot:Coral') / 4]).toEqual([400, 100]);
    expect(film.objects.map(({ kind }) => kind)).toEqual(['fill', 'text']);
  });
});
