import './app.ts';
import { readyBenches } from '../workers/worker-bench.ts';
import { watchForFaults } from './fault-panel.ts';
import { keepAnalysisCurrent } from './state/analysis.ts';
import { forgetOldCleanings } from './state/cleanings.ts';
import { keepTrialSafe, listKept, resumeThisTab } from './state/keeping.ts';
import { followAddress } from './state/router.ts';

watchForFaults();
followAddress();
keepTrialSafe();
keepAnalysisCurrent();
forgetOldCleanings();
void resumeThisTab();
void listKept();
readyBenches();
