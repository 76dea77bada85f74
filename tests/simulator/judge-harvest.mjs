#!/usr/bin/env node
import { buildPrograms } from '../build-program.mjs';

/** The long form of the harvest's simulations: node tests/simulator/judge-harvest.mjs [fields of each kind, 300]. */
const programs = await buildPrograms('dist/judge-harvest', ['tests/simulator/judge-harvest.ts']);
const { judgeHarvest } = await import(programs['judge-harvest'].href);
process.exitCode = judgeHarvest(Number(process.argv[2] ?? 300)) ? 0 : 1;
