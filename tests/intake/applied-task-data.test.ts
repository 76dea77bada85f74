import dictionary from 'isoxml/dist/DDEntities.js';
import { describe, expect, test } from 'vitest';
import { localProjection } from '../../src/geometry/local-projection.ts';
import { loggedSwaths } from '../../src/harvest/logged-swaths.ts';
import { LOGGED_RATES } from '../../src/intake/application-identifiers.ts';
import type { ApplicationLog } from '../../src/intake/application-log.ts';
import { readApplicationSource } from '../../src/intake/read-application.ts';
import { sniffSource } from '../../src/intake/read-source.ts';
import type { ApplicationFile } from '../../src/trial/trial-document.ts';
import { asBytes, codesOf, problemOf, taken } from './as-bytes.ts';
import { type LoggedDdi, type MadeRecord, source, taskDataFiles, zipped } from './made-files.ts';

/**
 * Application logs of ISO 11783-10 built from the standard's own definitions of elements, attributes and records (from
 * memory, as in `made-files.ts`); identifiers, units and resolutions are held against the copy of the data dictionary
 * (ISO 11783-11) that comes with the library isoxml.
 */
const ASKED: ApplicationFile = { path: 't.zip', columns: {}, swathM: null, products: [] };

const read = (
  logged: readonly LoggedDdi[],
  records: readonly MadeRecord[],
  described = '',
  inTask = '',
  asked = ASKED,
) =>
  readApplicationSource(
    source('t.zip', zipped(taskDataFiles(logged, records, { described, inTask }), 0)),
    asked,
  );

const record = (second: number, values: MadeRecord['values']): MadeRecord => ({
  second,
  longitude: 11.5,
  latitude: 48.1 + second * 1e-4,
  values,
});

const productsOf = (log: ApplicationLog) =>
  [...log.product].map((index, entry) => (log.applied[entry] === 1 ? log.products[index] : null));

/** Device (DVC), its elements (DET: id, object, type, name, number, parent object) and their properties (DPT, by DOR). */
const SPRAYER = `<PDT A="PDT1" B="Alpha 250"/><PDT A="PDT2" B="Beta"/><DVC A="DVC-1" B="Sprayer" C="1" D="A000000000000001" E="1" F="31" G="FF000000000000">
<DET A="DET-1" B="1" C="1" D="Sprayer" E="0" F="0"/><DET A="DET-2" B="2" C="2" D="Boom" E="1" F="1"/>
<DET A="DET-3" B="3" C="4" D="Right" E="3" F="2"><DOR A="30"/><DOR A="32"/></DET><DET A="DET-4" B="4" C="4" D="Left" E="2" F="2"><DOR A="30"/><DOR A="31"/></DET>
<DET A="DET-5" B="5" C="3" D="Front tank" E="4" F="1"/><DET A="DET-6" B="6" C="3" D="Rear tank" E="5" F="1"/>
<DPT A="30" B="0043" C="6000"/><DPT A="31" B="0087" C="-3000"/><DPT A="32" B="0087" C="3000"/></DVC>`;
const BOOM = 'DET-2';

type Dictionary = Readonly<Record<string, { name: string; unit: string; bitResolution: number }>>;
/** One of each unit of the dictionary in L/ha, kg/ha or seeds per hectare, or in L/s, kg/s or seeds a second: 1 ha = 10,000 m², 1 L = 10⁶ mm³ = 10³ ml. */
const UNITS_PER_HA: Readonly<Record<string, number>> = {
  'mm³/m²': 1e4 / 1e6,
  'ml/m²': 1e4 / 1e3,
  'mg/m²': 1e4 / 1e6,
  '/m²': 1e4,
  'mm³/s': 1 / 1e6,
  'mg/s': 1 / 1e6,
  '/s': 1,
};

describe('rates of ISO 11783-10 task data', () => {
  test.each(LOGGED_RATES)('identifier $ddi is read by the dictionary’s unit and resolution', (rate) => {
    const { name, unit, bitResolution } = (dictionary as Dictionary)[rate.ddi]!;
    const perHa = UNITS_PER_HA[unit];
    expect(rate.factor).toBeCloseTo(perHa! * bitResolution, 12);
    expect(name.startsWith(rate.isSetpoint ? 'Setpoint' : 'Actual')).toBe(true);
    const kind = name.match(/(Volume|Mass|Count) Per (?:Area|Time) Application Rate/)?.[1];
    expect(kind).toBe({ L: 'Volume', kg: 'Mass', seeds: 'Count' }[rate.unit.split('/')[0]!]);
    expect(name.includes('Per Time')).toBe(rate.isFlow === true);
  });

  test('volume, width and work state, each value standing until the next of its kind', async () => {
    // 1,500,000 × 0.01 mm³/m² = 15,000 mm³/m² = 150 L/ha; 12,000 mm; work state 1 on, 0 off.
    const logged = ['0002', '0043', '008D'].map((ddi) => ({ ddi, device: BOOM }));
    const records = [
      record(0, { 0: 1_500_000, 1: 12_000, 2: 1 }),
      record(1, { 0: 1_600_000 }),
      record(2, { 2: 0 }),
      record(3, { 2: 1 }),
    ];
    const outcome = await read(logged, records, SPRAYER, '<PAN A="PDT1" E="DET-2"/>');
    const [log] = taken(outcome);
    expect([log?.rateUnit, [...(log?.rate ?? [])]]).toEqual(['L/ha', [150, 160, 160, 160]]);
    expect([...(log?.applied ?? [])]).toEqual([1, 1, 0, 1]);
    expect(productsOf(log!)).toEqual(['Alpha 250', 'Alpha 250', null, 'Alpha 250']);
    const { ground } = log!;
    expect(ground.kind === 'points' && [...ground.widthM]).toEqual([12, 12, 12, 12]);
    expect(ground.kind === 'points' && [...(ground.timeS ?? [])]).toEqual([0, 1, 2, 3]);
    expect(codesOf(outcome)).toEqual(['taskDataLogged', 'taskDataCarriedOn', 'boomNotPlaced']);
    expect(problemOf(outcome, 'taskDataLogged').details.used).toEqual([
      '2 (rate)',
      '67 (width)',
      '141 (work state)',
    ]);
    const zip = zipped(taskDataFiles(logged, records));
    expect(taken(await sniffSource(source('t.zip', zip)))).toBe('application');
  });

  test('a demanded mass is said to be demanded; a count is read in seeds per hectare', async () => {
    // 4,500 mg/m² = 45 kg/ha.
    const mass = await read(
      [{ ddi: '0006' }, { ddi: '0043' }],
      [0, 1].map((s) => record(s, { 0: 4500, 1: 3000 })),
    );
    expect(taken(mass)[0]).toMatchObject({ rateUnit: 'kg/ha', rate: Float64Array.of(45, 45) });
    expect(codesOf(mass)).toContain('rateIsSetpoint');
    const count = await read(
      [{ ddi: '000C' }, { ddi: '0043' }, { ddi: '008D' }],
      [0, 1].map((s) => record(s, { 0: 8000, 1: 3000, 2: 1 - s })),
    );
    // 8000 × 0.001 /m² = 8 /m².
    const rate = Float64Array.of(80_000, 80_000);
    expect(taken(count)[0]).toMatchObject({ rateUnit: 'seeds/ha', rate, applied: Uint8Array.of(1, 0) });
  });

  test('a flow per time is a rate over speed and width', async () => {
    // Common spraying arithmetic: L/ha = 600 × L/min / (km/h × m): 36 L/min at 9 km/h over 12 m are 200 L/ha.
    const logged = ['0025', '0043', '018D'].map((ddi) => ({ ddi }));
    const records = [record(0, { 0: 600_000, 1: 12_000, 2: 2500 }), record(1, { 2: 0 }), record(2, { 0: 0 })];
    const outcome = await read(logged, records);
    expect(taken(outcome)[0]).toMatchObject({ rateUnit: 'L/ha', applied: Uint8Array.of(1, 1, 0) });
    expect([...(taken(outcome)[0]?.rate ?? [])]).toEqual([200, Number.NaN, 0]);
    expect(problemOf(outcome, 'rateFromFlow').details.standing).toBe(1);
  });

  test('without a logged speed the way between the points tells it; flows of sections add up', async () => {
    // 0.0001 degrees of the meridian a second, by its radius of curvature at 48.1 degrees (WGS 84).
    const [a, e2] = [6378137, 0.00669437999014];
    const sine = Math.sin((48.1 * Math.PI) / 180);
    const speed = ((a * (1 - e2)) / (1 - e2 * sine ** 2) ** 1.5) * ((1e-4 * Math.PI) / 180);
    const logged = ['DET-3', 'DET-4'].map((device) => ({ ddi: '002A', device }));
    const records = [0, 1, 2, 3].map((s) => record(s, { 0: 200_000, 1: 300_000 }));
    const outcome = await read(
      [...logged, { ddi: '0043', device: BOOM }],
      records.map((own) => ({ ...own, values: { ...own.values, 2: 12_000 } })),
      SPRAYER,
    );
    const [log] = taken(outcome);
    expect(log?.rateUnit).toBe('kg/ha');
    for (const rate of log?.rate ?? []) expect(rate).toBeCloseTo((1e4 * 0.5) / (speed * 12), 3);
    expect(problemOf(outcome, 'rateFromFlowOnTrack').details.standing).toBe(0);
  });

  test('without a width the swath is asked for, and taken from the user', async () => {
    const records = [0, 1].map((s) => record(s, { 0: 1_500_000 }));
    expect(codesOf(await read([{ ddi: '0002' }], records))).toContain('askSwath');
    const [log] = taken(await read([{ ddi: '0002' }], records, '', '', { ...ASKED, swathM: 6 }));
    expect(log?.ground).toMatchObject({ widthM: Float64Array.of(6, 6) });
  });

  test('logs of a harvest alone are refused, naming what they hold', async () => {
    const outcome = await read([{ ddi: '0054' }, { ddi: '008D' }], [record(0, { 0: 900_000, 1: 1 })]);
    expect(problemOf(outcome, 'taskDataNotApplied').details.logged).toEqual(['84', '141']);
  });
});

describe('products of task data', () => {
  const rates = (device: string) => [
    { ddi: '0002', device },
    { ddi: '0043', device: BOOM },
  ];
  const rows = [0, 60, 120].map((s) => record(s, { 0: 1_500_000, 1: 12_000 }));
  const stamped = (product: string, from: string, zone = '') =>
    `<PAN A="${product}" D="1" E="DET-2"><ASP A="2024-09-01T${from}${zone}" D="4"/></PAN>`;

  test('allocated together are a tank mix', async () => {
    const [log] = taken(await read(rates(BOOM), rows, SPRAYER, '<PAN A="PDT1"/><PAN A="PDT2" E="DET-1"/>'));
    expect(log?.products).toEqual(['Alpha 250 + Beta']);
  });

  test('filled one after the other hold from their filling to the next', async () => {
    // Records are written from 10:00:00 on.
    const inTask = stamped('PDT1', '09:50:00') + stamped('PDT2', '10:01:30');
    const [log] = taken(await read(rates(BOOM), rows, SPRAYER, inTask));
    expect(productsOf(log!)).toEqual(['Alpha 250', 'Alpha 250', 'Beta']);
  });

  test('put out before anything was allocated it is of no product, and that is said', async () => {
    const inTask = stamped('PDT1', '10:00:30') + stamped('PDT2', '10:01:30');
    const outcome = await read(rates(BOOM), rows, SPRAYER, inTask);
    expect(productsOf(taken(outcome)[0]!)).toEqual(['', 'Alpha 250', 'Beta']);
    expect(problemOf(outcome, 'productNotAllocated').details.count).toBe(1);
  });

  test('with times of another clock they are not told, and that is said', async () => {
    const inTask = stamped('PDT1', '07:50:00', 'Z') + stamped('PDT2', '08:01:30', 'Z');
    const outcome = await read(rates(BOOM), rows, SPRAYER, inTask);
    expect(taken(outcome)[0]?.products).toEqual(['']);
    expect(problemOf(outcome, 'allocationClockUnknown').details.count).toBe(3);
  });

  test('with instants they are matched where the log holds the receiver’s UTC', async () => {
    // The log’s clock stands at 10:00:00; the receiver says 08:00:02 UTC: two hours ahead, and two seconds slow.
    const utc = rows.map((row) => ({ ...row, utcMs: 8 * 3_600_000 + 2000 + row.second * 1000 }));
    const told = async (inTask: string) =>
      productsOf(taken(await read(rates(BOOM), utc, SPRAYER, inTask))[0]!);
    const expected = ['Alpha 250', 'Alpha 250', 'Beta'];
    expect(await told(stamped('PDT1', '07:50:00', 'Z') + stamped('PDT2', '08:01:30', 'Z'))).toEqual(expected);
    expect(await told(stamped('PDT1', '09:50:00', '+02:00') + stamped('PDT2', '11:01:30', '+03:00'))).toEqual(
      expected,
    );
    // One with a zone and one without: by which clock the latter is, nobody knows.
    expect(await told(stamped('PDT1', '07:50:00', 'Z') + stamped('PDT2', '10:01:30'))).toEqual(['', '', '']);
  });

  test('each tank with a rate of its own is a log of its own', async () => {
    const logged = [
      { ddi: '0002', device: 'DET-5' },
      { ddi: '0007', device: 'DET-6' },
      { ddi: '0043', device: BOOM },
    ];
    // 2,000 mg/m² = 20 kg/ha.
    const records = [0, 1].map((s) => record(s, { 0: 1_500_000, 1: 2000, 2: 12_000 }));
    const inTask = '<PAN A="PDT1" E="DET-5"/><PAN A="PDT2" E="DET-6"/>';
    const logs = taken(await read(logged, records, SPRAYER, inTask));
    expect(logs.map(({ products, rate, rateUnit }) => [products, rate?.[0], rateUnit])).toEqual([
      [['Alpha 250'], 150, 'L/ha'],
      [['Beta'], 20, 'kg/ha'],
    ]);
  });

  test('that no task names are told apart by the names of the tasks, which is said', async () => {
    const files = taskDataFiles(rates(BOOM), rows, { described: SPRAYER });
    const xml = new TextDecoder().decode(files['TASKDATA/TASKDATA.XML']);
    const second = '<TSK A="TSK2" B="Beta strips" G="4"><TLG A="TLG00002" C="1"/></TSK></ISO11783_TaskData>';
    const zip = zipped({
      ...files,
      'TASKDATA/TASKDATA.XML': asBytes(xml.replace('</ISO11783_TaskData>', second)),
      'TASKDATA/TLG00002.XML': files['TASKDATA/TLG00001.XML'],
      'TASKDATA/TLG00002.BIN': files['TASKDATA/TLG00001.BIN'],
    });
    const outcome = await readApplicationSource(source('t.zip', zip), ASKED);
    expect(taken(outcome)[0]?.products).toEqual(['Harvest', 'Beta strips']);
    expect(codesOf(outcome)).toContain('taskNamesAsProducts');
  });

  test('named by the treatment zone alone', async () => {
    const zone = '<TZN A="1"><PDV A="0001" B="1500000" C="PDT2"/></TZN>';
    expect(taken(await read(rates(BOOM), rows, SPRAYER, zone))[0]?.products).toEqual(['Beta']);
  });
});

describe('sections of a boom', () => {
  const logged = ['0002', '0043', '00A1'].map((ddi) => ({ ddi, device: BOOM }));
  // Two bits a section, the leftmost in the lowest (DDI 161, from memory): 0b0101 both on, 0b0001 left, 0b0100 right.
  const words = [0b0101, 0b0001, 0b0100, 0b0000, 0b0101];
  const records = words.map((word, s) => record(s, { 0: 1_500_000, 1: 12_000, 2: word }));

  test('that were off leave their ground bare', async () => {
    const [log] = taken(await read(logged, records, SPRAYER));
    expect([...(log?.applied ?? [])]).toEqual([1, 1, 1, 0, 1]);
    const projection = localProjection({ originLongitude: 11.5, originLatitude: 48.1 });
    const { swaths } = loggedSwaths(log!, projection);
    const extents = swaths.map(({ corners, entry }) => {
      const east = corners.map(([x]) => x);
      return [entry, Math.min(...east), Math.max(...east)].map((x) => Math.round(100 * x) / 100 + 0);
    });
    // Driving north: west is left. Each section is 6 m wide, 3 m aside.
    expect(extents).toEqual([
      [0, -6, 6],
      [1, -6, 0],
      [2, 0, 6],
      [4, -6, 6],
    ]);
  });

  test('that the machine does not place count with the whole width, and that is said', async () => {
    const outcome = await read(logged, records, SPRAYER.replaceAll('<DOR A="31"/>', ''));
    const [log] = taken(outcome);
    expect(log?.ground).not.toHaveProperty('parts');
    expect(problemOf(outcome, 'sectionsNotPlaced').details.count).toBe(2);
  });
});

describe('where the boom lies, by the description of the machine', () => {
  // Offsets from the machine's reference point: 134 forward, 135 to the right, in mm (ISO 11783-11, from memory).
  const element = (id: number, kind: number, offsets: Readonly<Record<string, number>>) => {
    const properties = Object.entries(offsets).map(([ddi, mm], k) => ({ object: 100 * id + k, ddi, mm }));
    const refs = properties.map(({ object }) => `<DOR A="${object}"/>`).join('');
    return {
      det: `<DET A="DET-${id}" B="${id}" C="${kind}" E="${id}" F="${kind === 1 ? 0 : Math.floor(id / 10) * 10}">${refs}</DET>`,
      dpt: properties.map(({ object, ddi, mm }) => `<DPT A="${object}" B="${ddi}" C="${mm}"/>`).join(''),
    };
  };
  const device = (id: number, ...elements: readonly ReturnType<typeof element>[]) =>
    `<DVC A="DVC-${id}" B="Machine" C="1" D="A00000000000000${id}" E="1" F="31" G="FF000000000000">${elements.map(({ det }) => det).join('')}${elements.map(({ dpt }) => dpt).join('')}</DVC>`;
  const logged = ['0002', '0043'].map((ddi) => ({ ddi, device: 'DET-12' }));
  const rows = [0, 1, 2].map((s) => record(s, { 0: 1_500_000, 1: 12_000 }));
  const offsetOf = async (described: string, inTask = '', asked = ASKED) => {
    const outcome = await read(logged, rows, described, inTask, asked);
    const { ground } = taken(outcome)[0]!;
    const offset = ground.kind === 'points' ? (ground.offset ?? null) : null;
    return { offset, codes: codesOf(outcome).filter((code) => code.startsWith('boom')) };
  };

  test('a machine with boom and receiver: the difference of their offsets', async () => {
    const own = [element(10, 1, {}), element(12, 2, { '0086': -3000 })] as const;
    const receiver = element(13, 7, { '0086': 1500, '0087': -200 });
    const placed = { offset: { behindM: 4.5, asideM: 0.2 }, codes: ['boomPlaced'] };
    expect(await offsetOf(device(1, ...own, receiver))).toEqual(placed);
    // Without the receiver's place, or with two receivers, it is not told; what the user said stands.
    expect(await offsetOf(device(1, ...own))).toEqual({ offset: null, codes: ['boomNotPlaced'] });
    const two = device(1, ...own, receiver, element(14, 7, { '0086': 0 }));
    expect(await offsetOf(two)).toEqual({ offset: null, codes: ['boomNotPlaced'] });
    expect((await offsetOf(device(1, ...own), '', { ...ASKED, boomBehindM: 3 })).codes).toEqual([]);
  });

  test('an implement behind a tractor: over the connectors that the task couples', async () => {
    const implement = device(
      1,
      element(10, 1, {}),
      element(12, 2, { '0086': -1000 }),
      element(13, 6, { '0086': 5000 }),
    );
    const tractor = device(
      2,
      element(20, 1, {}),
      element(21, 6, { '0086': -1200 }),
      element(22, 7, { '0086': 500 }),
    );
    const coupled = '<CNN A="DVC-2" B="DET-21" C="DVC-1" D="DET-13"/>';
    // The boom lies 1 m behind the implement's reference point and that 5 m behind the hitch, 1.2 m behind the tractor's: 7.7 m behind the receiver.
    const { offset } = await offsetOf(implement + tractor, coupled);
    expect(offset?.behindM).toBeCloseTo(7.7, 9);
    expect(offset?.asideM).toBeCloseTo(0, 9);
    expect((await offsetOf(implement + tractor)).codes).toEqual(['boomNotPlaced']);
  });

  test('what was put out is laid there', () => {
    const frame = { originLongitude: 11.5, originLatitude: 48.1 };
    const projection = localProjection(frame);
    const line = [0, 10, 20, 30].map((north) => projection.toGeographic(0, north));
    const swaths = (offset: { behindM: number; asideM: number } | null, behindM: number | null) =>
      loggedSwaths(
        {
          ...{ file: 't', count: 4, rate: null, rateUnit: null, products: [''] },
          ...{ product: new Int32Array(4), applied: new Uint8Array(4).fill(1) },
          ground: {
            ...{ kind: 'points', timeS: null, widthM: new Float64Array(4).fill(12), offset },
            longitude: Float64Array.from(line, ([longitude]) => longitude),
            latitude: Float64Array.from(line, ([, latitude]) => latitude),
          },
        },
        projection,
        behindM,
      ).swaths[0]!.corners.map((corner) => corner.map((metres) => Math.round(100 * metres) / 100 + 0));
    // Northwards, from 4.5 m south of the first point to 4.5 m south of the second, 6 m to either side, 0.2 m to the east.
    expect(swaths({ behindM: 4.5, asideM: 0.2 }, null)).toEqual([
      [6.2, -4.5],
      [6.2, 5.5],
      [-5.8, 5.5],
      [-5.8, -4.5],
    ]);
    expect(swaths({ behindM: 4.5, asideM: 0 }, 1)).toEqual([
      [6, -1],
      [6, 9],
      [-6, 9],
      [-6, -1],
    ]);
    expect(swaths(null, null)).toEqual([
      [6, 0],
      [6, 10],
      [-6, 10],
      [-6, 0],
    ]);
  });
});
