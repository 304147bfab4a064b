// Every rule by its kind. A kind without a rule does not compile. The order of the values is the order in which
// rules look: first causes before what is hidden behind them.

import { fireRisk } from './heat/fire-risk.ts';
import { overCeiling } from './heat/over-ceiling.ts';
import { gatewayLost } from './measuring/gateway-lost.ts';
import { probeSilent } from './measuring/probe-silent.ts';
import type { Rule } from './rule.ts';

export const ALL_RULES: readonly Rule[] = [fireRisk, overCeiling, gatewayLost, probeSilent];
