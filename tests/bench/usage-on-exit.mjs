import { readFileSync, writeFileSync } from 'node:fs';

/** Loaded before a program that is measured: writes what the process used to the file named by USAGE_FILE. */
process.on('exit', () => {
  const { userCPUTime, systemCPUTime } = process.resourceUsage();
  const usage = { processorSeconds: (userCPUTime + systemCPUTime) / 1e6, peakMemoryMB: peakMemoryMB() };
  writeFileSync(process.env.USAGE_FILE ?? 'usage.json', JSON.stringify(usage));
});

/** Linux counts a parent's memory into maxRSS until the program begins; VmHWM is the program's own. */
function peakMemoryMB() {
  try {
    const kilobytes = /VmHWM:\s*(\d+) kB/.exec(readFileSync('/proc/self/status', 'utf8'))?.[1];
    if (kilobytes !== undefined) return Number(kilobytes) / 1024;
  } catch {
    // No /proc: another system.
  }
  return process.resourceUsage().maxRSS / 1024;
}
