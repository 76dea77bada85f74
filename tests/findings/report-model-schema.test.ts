import { readFileSync, writeFileSync } from 'node:fs';
import { toJsonSchema } from '@valibot/to-json-schema';
import { expect, it } from 'vitest';
import { REPORT_VERSION, reportModelSchema } from '../../src/findings/report-model.ts';

const FILE = new URL('../../src/findings/report-model.schema.json', import.meta.url);

/** "integer" stands for valibot's check of whole numbers; "finite" is what JSON can hold anyway. */
function currentSchema(): object {
  const schema = toJsonSchema(reportModelSchema, { ignoreActions: ['finite'] });
  return {
    $schema: schema.$schema,
    title: 'Report model of Stripverdict',
    description: `Version ${REPORT_VERSION}. Units stand beside numbers; what is unknown is null.`,
    ...schema,
  };
}

it('the JSON Schema beside the report model is the one its types make', () => {
  const current = currentSchema();
  if (process.env.WRITE_REPORT_SCHEMA === '1') writeFileSync(FILE, JSON.stringify(current));
  const remedy =
    'src/findings/report-model.schema.json is stale: run WRITE_REPORT_SCHEMA=1 npx vitest run tests/findings/report-model-schema.test.ts, then npx biome format --write src/findings, look at the change and commit it';
  expect(JSON.parse(readFileSync(FILE, 'utf8')), remedy).toEqual(JSON.parse(JSON.stringify(current)));
});
