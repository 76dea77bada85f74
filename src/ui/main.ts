import './app.ts';
import { watchForFaults } from './fault-panel.ts';
import { keepAnalysisCurrent } from './state/analysis.ts';
import { keepTrialSafe, listKept, resumeThisTab } from './state/keeping.ts';
import { followAddress } from './state/router.ts';

watchForFaults();
followAddress();
keepTrialSafe();
keepAnalysisCurrent();
void resumeThisTab();
void listKept();
