import proj4 from 'proj4';
import { asBytes } from '../intake/as-bytes.ts';
import { dbfFile, shpFile, UTM_32N_PRJ } from '../intake/made-files.ts';
import { dropFiles, dropParts, ownLayout, ownPoints } from './own-files.ts';
import { answerIsThere, goToStage } from './stages.ts';
import { expect, test } from './watched-page.ts';

const LATE_S = 5;
const HEADING_LINES = 1;

/** The first half of the field from one combine, the second from another whose signal is late. */
function twoCombines() {
  const halves = [ownPoints(0), ownPoints(LATE_S)].map(({ text }) => text.trimEnd().split('\n'));
  const middle = HEADING_LINES + ((halves[0]?.length ?? 0) - HEADING_LINES) / 2;
  const [early, late] = halves as [string[], string[]];
  return [
    { name: 'first-combine.csv', text: [...early.slice(0, middle), ''].join('\n') },
    { name: 'second-combine.csv', text: [late[0], ...late.slice(middle), ''].join('\n') },
  ];
}

test('two combines: each file has its own lag, calibration and machine', async ({ page }) => {
  await page.goto('/');
  await dropFiles(page, [ownLayout(), ...twoCombines()]);
  await answerIsThere(page);
  await goToStage(page, 'Harvest');
  const lag = page.getByRole('region', { name: 'From the header to the sensor' });
  await lag.getByRole('button', { name: 'Estimate it from the points' }).click();
  await expect(lag.locator('svg')).toHaveCount(2);
  const set = lag.getByRole('button', { name: /^Shift the flow of this file back by/ }).last();
  await set.click();
  const second = lag.getByRole('group', { name: 'second-combine.csv' });
  const shift = Number(await second.getByLabel('Shift of its flow').inputValue());
  expect(Math.abs(shift - LATE_S)).toBeLessThanOrEqual(1);
  await expect(
    lag.getByRole('group', { name: 'first-combine.csv' }).getByLabel('Shift of its flow'),
  ).toHaveValue('');
  await expect(lag).toContainText(`Flow in second-combine.csv is shifted back by ${shift} s now`);
  await expect(lag).toContainText('This shift is set.');

  const file = page.getByRole('region', { name: 'second-combine.csv' });
  await file.getByText('Machine, operator, day and calibration: as the file says').click();
  await file.getByLabel('Machine', { exact: true }).fill('The old one');
  await file.getByLabel('Multiply masses by').fill('1.04');
  await file.getByLabel('Multiply masses by').press('Tab');
  await file.getByLabel('Where this factor comes from').fill('a weighed load');
  await file.getByLabel('Where this factor comes from').press('Tab');
  await answerIsThere(page);
  await goToStage(page, 'Answer');
  await expect(page.getByText('in second-combine.csv: was').first()).toBeAttached();
  await expect(page.getByText('masses were multiplied by 1.04').first()).toBeAttached();

  await goToStage(page, 'Harvest');
  await expect(file.getByText('calibration: The old one, masses times 1.04')).toBeVisible();
  const first = page.getByRole('region', { name: 'first-combine.csv' });
  await first.getByText('Machine, operator, day and calibration').click();
  await first.getByLabel('Machine', { exact: true }).fill('The new one');
  await first.getByLabel('Machine', { exact: true }).press('Tab');
  await answerIsThere(page);
  await goToStage(page, 'Trial');
  await page.getByText('More about the analysis').click();
  await page.getByLabel('Take out a difference between machines?').selectOption('yes');
  await answerIsThere(page);
  await goToStage(page, 'Answer');
  // The analysis of variance opens on demand.
  const machine = page.locator('tr', { has: page.locator('th', { hasText: /^Machine$/ }) });
  await expect(machine.first()).toBeAttached();
  await page.getByRole('button', { name: 'Undo' }).click();
  await expect(machine).toHaveCount(0);
});

/** The points of the whole field as metres of the zone 32 north, as records of a shapefile and as a table. */
function inMetres() {
  const rows = ownPoints(0).text.trimEnd().split('\n').slice(HEADING_LINES);
  const points = rows.map((row) => {
    const [time, longitude, latitude, yieldTPerHa, width, distance] = row.split(',').map(Number) as number[];
    const [east, north] = proj4('+proj=utm +zone=32 +datum=WGS84', [longitude!, latitude!]) as [
      number,
      number,
    ];
    return { time, east, north, yieldTPerHa, width, distance };
  });
  const records = points.map(({ east, north, time, yieldTPerHa, width, distance }) => ({
    point: [east, north] as const,
    attributes: { Time_s: time!, Yld_t_ha: yieldTPerHa!, Width_m: width!, Dist_m: distance! },
  }));
  const lines = points.map(({ time, east, north, yieldTPerHa, width, distance }) =>
    [time, east.toFixed(3), north.toFixed(3), yieldTPerHa, width, distance].join(','),
  );
  return {
    records,
    csv: ['time (s),Easting,Northing,yield (t/ha),width (m),distance (m)', ...lines, ''].join('\n'),
  };
}

test('points as loose parts of a shapefile, and as metres of a zone that the user names', async ({
  page,
}) => {
  await page.goto('/');
  const { records, csv } = inMetres();
  await dropParts(page, [
    { name: ownLayout().name, bytes: asBytes(ownLayout().text) },
    { name: 'own.shp', bytes: shpFile(records) },
    { name: 'own.dbf', bytes: dbfFile(records) },
    { name: 'own.prj', bytes: asBytes(UTM_32N_PRJ) },
    { name: 'own.cpg', bytes: asBytes('UTF-8') },
  ]);
  await answerIsThere(page);
  await goToStage(page, 'Harvest');
  const shape = page.getByRole('region', { name: 'own.shp' });
  await expect(shape).toContainText('Points of a yield monitor');
  await shape.getByRole('button', { name: /^Take this file out/ }).click();

  await dropFiles(page, [{ name: 'metres.csv', text: csv }]);
  const file = page.getByRole('region', { name: 'metres.csv' });
  const zone = file.getByLabel('In which zone of the UTM grid?');
  await expect(zone.locator('option').nth(1)).toHaveText('UTM 32N');
  await zone.selectOption('UTM 32N');
  await answerIsThere(page);
  await expect(zone).toHaveCount(0);
  await expect(file.getByLabel('Unit of longitude')).toHaveValue('UTM 32N');
});
