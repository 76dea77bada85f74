import { writeFileSync } from 'node:fs';

/** Loaded before a program that is measured: writes what the process used to the file named by USAGE_FILE. */
process.on('exit', () => {
  const { userCPUTime, systemCPUTime, maxRSS } = process.resourceUsage();
  const usage = { processorSeconds: (userCPUTime + systemCPUTime) / 1e6, peakMemoryMB: maxRSS / 1024 };
  writeFileSync(process.env.USAGE_FILE ?? 'usage.json', JSON.stringify(usage));
});
