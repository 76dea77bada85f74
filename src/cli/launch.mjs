#!/usr/bin/env node
import { join } from 'node:path';
import { pathToFileURL } from 'node:url';
import { appFolder, commandLineFolder } from './builds.mjs';

/**
 * The binary `stripverdict`: builds the command line from the sources as they are (messages on standard error),
 * then hands over to it.
 */
const words = process.argv.slice(2);
const folder = await commandLineFolder();
const { run } = await import(pathToFileURL(join(folder, 'main.mjs')).href);
process.exitCode = await run(words, { appFolder });
