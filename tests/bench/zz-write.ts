import { writeLargeHarvest } from './large-harvest.ts';

console.log(writeLargeHarvest(process.argv[2]!, Number(process.argv[3])));
