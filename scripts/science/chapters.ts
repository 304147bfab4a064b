// The chapters of the science page: which files of wax/ they cover, the formulas in TeX, the limits, the plots, and
// where each is checked against the outside world. Prose about a function is in its docstring, not here.

export interface Chapter {
  readonly title: string;
  /** Without folder and ending. */
  readonly files: readonly string[];
  /** What these files export beside it and no screen shows; it stays off the page. */
  readonly leftOut?: readonly string[];
  readonly formulas: readonly { readonly tex: string; readonly where: string }[];
  readonly limits: readonly string[];
  readonly plots: readonly string[];
  /** In tests/reference, without ending. */
  readonly checks: readonly string[];
}

export const CHAPTERS: readonly Chapter[] = [
  {
    title: 'Flow',
    files: ['heat/flow'],
    leftOut: ['checkedFlowBand'],
    formulas: [
      {
        tex: String.raw`\max_{T_i \le T} f_i^{\min} \;\le\; f(T) \;\le\; \min_{T_i \ge T} f_i^{\max}`,
        where: '$f$ flow in percent, $T_i$ the temperatures at which the class has limits',
      },
    ],
    limits: [
      'The limits are those of the older national specifications, from memory; the table of ISO 15854:2023 was not seen and may differ.',
      'A flow test is one load for ten minutes; it says nothing of creep over hours.',
    ],
    plots: ['flow-bands'],
    checks: ['expansion-and-flow'],
  },
  {
    title: 'Thermal expansion',
    files: ['relaxation/thermal-strain'],
    formulas: [
      {
        tex: String.raw`\varepsilon(T_1 \to T_2) = \int_{T_1}^{T_2} \alpha(T)\,dT`,
        where: String.raw`$\alpha$ piecewise constant, with the jump at the transition`,
      },
    ],
    limits: [
      'Slopes of one batch of each wax; blends differ. Beyond what was measured the last slope is carried on.',
    ],
    plots: ['expansion'],
    checks: ['expansion-and-flow'],
  },
  {
    title: 'Heat dose of a pot',
    files: ['heat/heat-dose', 'heat/thermal-rate'],
    leftOut: ['heatDose', 'doseOfRamp', 'checkedDoseOfRamp'],
    formulas: [
      {
        tex: String.raw`D = \int \exp\!\left[\frac{E}{R}\left(\frac{1}{T_\mathrm{ref}} - \frac{1}{T}\right)\right] dt, \qquad D_\mathrm{after} = D\,(1 - f)`,
        where:
          '$D$ equivalent hours, $E$ activation energy, $R = 8.31446$ J/(mol K), $f$ the share replaced by fresh wax',
      },
      {
        tex: String.raw`\int e^{-B/T}\,dT = T\,e^{-B/T}\left(1 - x\,e^{x} E_1(x)\right), \qquad x = B/T`,
        where:
          'exact along a straight line of temperature, so that the time between readings does not matter',
      },
    ],
    limits: [
      'No activation energy of dental wax is published; the one used is that of hydrocarbons, and is a setting.',
      'Oxidation has an induction time that this form does not know: the dose orders charges by age, it does not predict a colour.',
    ],
    plots: ['dose-factor'],
    checks: ['heat-dose'],
  },
  {
    title: 'Mean kinetic temperature',
    files: ['heat/mean-kinetic-temperature'],
    leftOut: ['meanKineticTemperature', 'meanKineticTemperatureOfSeries'],
    formulas: [
      {
        tex: String.raw`T_K = \frac{\Delta H / R}{-\ln\left(\dfrac{\int e^{-\Delta H / (R T)}\,dt}{\int dt}\right)}`,
        where: String.raw`$\Delta H / R = 10\,000$ K as in the pharmacopoeia, unless the lab sets another`,
      },
    ],
    limits: [
      'Made for medicines; for wax it is a convention that weighs warm hours more than the mean does.',
    ],
    plots: [],
    checks: ['mean-kinetic-temperature'],
  },
  {
    title: 'Storage swings',
    files: ['numbers/rainflow'],
    leftOut: ['rainflow'],
    formulas: [
      {
        tex: String.raw`X \ge Y \Rightarrow \text{count } Y: \quad X = |p_n - p_{n-1}|,\; Y = |p_{n-1} - p_{n-2}|`,
        where: '$p$ turning points; a full cycle, or a half when $Y$ holds the first point',
      },
    ],
    limits: ['Rainflow counts swings; no published curve says how many of which size a wax pattern bears.'],
    plots: [],
    checks: ['rainflow'],
  },
  {
    title: 'Distortion of a stored pattern',
    files: [
      'relaxation/reduced-time',
      'relaxation/stretched-exponential',
      'relaxation/relaxation-parameters',
      'relaxation/reduced-course',
      'relaxation/predicted-error',
      'relaxation/tolerance-instant',
      'relaxation/night-forecast',
    ],
    leftOut: ['relaxationStep'],
    formulas: [
      {
        tex: String.raw`\xi = \int \frac{dt}{a(T)}, \qquad \varepsilon_r = \varepsilon_0\left(1 - e^{-(\xi/\tau)^{\beta}}\right)`,
        where: String.raw`$\xi$ reduced time, $\varepsilon_0$ strain frozen in by the technique`,
      },
      {
        tex: String.raw`\ln a = \frac{E}{R}\left(\frac{1}{T} - \frac{1}{T_\mathrm{ref}}\right)`,
        where: 'by Arrhenius',
      },
      {
        tex: String.raw`e_\mathrm{permanent} = e_\mathrm{measured} + 1000\,L\,\varepsilon_0 \sum_\mathrm{off\ die}\left(e^{-(\xi_1/\tau)^{\beta}} - e^{-(\xi_2/\tau)^{\beta}}\right), \qquad e_\mathrm{reversible} = 1000\,L\,\varepsilon(T_\mathrm{room} \to T)`,
        where:
          '$e$ in µm over the length $L$ in mm; from $\\xi_1$ to $\\xi_2$ it was off its die, counted since its strain was frozen in; $e_\\mathrm{measured}$ the gap when its fit was last established',
      },
    ],
    limits: [
      'No table of micrometres against hours was found for dental patterns. Until the lab calibrates, every such figure is generic and uncalibrated, and says so.',
      'One length, one number: a pattern bends in ways that one number does not hold.',
      'That a die holds a pattern is common practice; that margins shrink on it all the same is published without a figure (Zeltser, Lewinstein and Grajower, J Prosthet Dent, from memory). The upper end of the band lets half of the strain go on the die: an assumption of this project.',
      'Generic figures never say more than "check the fit"; a remake follows from a measured gap or from a calibrated band wholly over the tolerance.',
    ],
    plots: ['night-error'],
    checks: ['relaxation'],
  },
  {
    title: 'Calibration by the bent-stick test',
    files: [
      'relaxation/bent-stick-test',
      'relaxation/opening-model',
      'relaxation/relaxation-calibration',
      'relaxation/calibration-verdict',
      'numbers/coverage-factor',
    ],
    formulas: [
      {
        tex: String.raw`o(t) = A\left(1 - e^{-(\xi(t)/\tau)^{\beta}}\right), \qquad \min_{\ln A,\,\ln\tau,\,\beta,\,E} \sum_i \left(o_i - o(t_i)\right)^2`,
        where: '$o$ opening in mm, read over hours at two temperatures or more',
      },
      {
        tex: String.raw`\mathrm{cov} = \frac{\sum_i r_i^2}{n - 4}\,(J^\mathsf{T} J)^{-1}`,
        where: "$J$ derivatives at the minimum; 95 % intervals with Student's $t$",
      },
    ],
    limits: [
      'The interval is that of the curve near its minimum; with few readings it is optimistic, and the verdict asks for more.',
      'A bent stick is not a crown: it calibrates how fast the wax relaxes, not how much strain a technique freezes in.',
    ],
    plots: ['calibration'],
    checks: ['relaxation-calibration', 'distributions'],
  },
  {
    title: 'Soak: soft to the core',
    files: ['heat/soak-body', 'heat/soak-scheme', 'heat/soak'],
    leftOut: ['underLamp', 'cellVolumes', 'soakTheta', 'soakCelsius', 'softToTheCoreAfter'],
    formulas: [
      {
        tex: String.raw`V_i\,\frac{T_i^{k+1} - T_i^k}{\Delta t} = \sum_j G_{ij}\left(T_j^{k+1} - T_i^{k+1}\right)`,
        where: 'finite volumes for surroundings that change: what leaves one cell enters its neighbour',
      },
    ],
    limits: [
      'The surface coefficient is an estimate within a factor of two, and soak time goes with it.',
      'No melting inside, and one set of properties for the whole body.',
    ],
    plots: ['soak'],
    checks: ['conduction'],
  },
  {
    title: 'Response of a heater',
    files: [
      'heat/first-order-fit',
      'heat/minutes-to-limit',
      'heat/first-order-curve',
      'numbers/weighted-moments',
    ],
    leftOut: ['firstOrderForecast'],
    formulas: [
      {
        tex: String.raw`\tau\frac{dT}{dt} = T_\infty - T \;\Rightarrow\; T(t) = T_\mathrm{now} + \frac{T_\infty}{\tau}\,u - \frac{1}{\tau}\int T\,du`,
        where: String.raw`linear in $T_\infty/\tau$ and $1/\tau$; readings weigh $e^{-\mathrm{age}/\mathrm{memory}}$`,
      },
      {
        tex: String.raw`t_\mathrm{limit} = \tau \ln\frac{T_\infty - T_\mathrm{now}}{T_\infty - T_\mathrm{limit}}`,
        where: 'time until a limit is met',
      },
    ],
    limits: [
      'One time constant and steady surroundings. A probe in the wall of a pot leads the wax; a probe in the wax lags the wall.',
      'No fit across melting, and no forecast through it.',
    ],
    plots: [],
    checks: ['thermostat'],
  },
  {
    title: 'Probes',
    files: [
      'probes/platinum',
      'probes/thermocouple',
      'probes/thermistor',
      'probes/digital-codes',
      'probes/converter-codes',
      'probes/tolerance-class',
      'probes/probe-calibration',
      'probes/probe-health',
    ],
    leftOut: [
      'checkPlatinum',
      'steinhartHartFrom',
      'oneWireCode',
      'ONE_WIRE_RESOLUTION',
      'linearWordCelsius',
    ],
    formulas: [
      {
        tex: String.raw`R = R_0\left(1 + At + Bt^2 + C(t - 100)t^3\right), \quad C = 0 \text{ for } t \ge 0`,
        where: String.raw`IEC 60751: $A = 3.9083\cdot10^{-3}$, $B = -5.775\cdot10^{-7}$, $C = -4.183\cdot10^{-12}$`,
      },
      {
        tex: String.raw`E = \sum_i c_i t^i + a_0 e^{a_1 (t - a_2)^2}, \qquad E(t) = E_\mathrm{measured} + E(t_\mathrm{cold})`,
        where:
          'NIST ITS-90; the exponential for type K above 0 °C only; the cold junction is made good in volts',
      },
      {
        tex: String.raw`\frac{1}{T} = a + b\ln R + c\,(\ln R)^3, \qquad R = R_{25}\,e^{\beta(1/T - 1/298.15)}`,
        where: 'Steinhart and Hart; the beta equation',
      },
      {
        tex: String.raw`s = \frac{1.4826}{\sqrt{6}}\,\operatorname{median}\left|T_{i+2} - 2T_{i+1} + T_i\right|, \qquad \left|T_i - m_i\right| > \max\left(1, 3 \cdot 1.4826\,d_i\right)`,
        where:
          'scatter of a reading, and the mark of an outlier: $m_i$ median and $d_i$ median absolute deviation of seven readings',
      },
    ],
    limits: [
      'A tolerance class is a promise about new probes of a type; a calibration replaces it.',
      'Self-heating, leads and the place of the probe are not in any of these.',
    ],
    plots: [],
    checks: ['platinum', 'thermocouple', 'thermistor', 'one-wire-codes', 'converter-codes'],
  },
  {
    title: 'Fit budget',
    files: ['relaxation/fit-budget', 'relaxation/fit-agreement', 'heat/burnout-check'],
    formulas: [
      {
        tex: String.raw`m_i = c + \varepsilon_0\,u_i + e_i, \qquad b = \frac{1}{n}\sum_i (m_i - p_i)`,
        where:
          'measured gap $m_i$, predicted $p_i$, $u_i$ what a strain of 1 would have made; constant part $c$, strain $\\varepsilon_0$ by least squares from twenty gaps on, bias $b$',
      },
      {
        tex: String.raw`\Delta = (\varepsilon_\mathrm{setting} + \varepsilon_\mathrm{hygroscopic} + \varepsilon_\mathrm{thermal}) - (s_\mathrm{wax} + s_\mathrm{alloy}), \qquad U = 2\sqrt{\sum_i a_i^2/3}`,
        where: 'linear percent; $a_i$ half-widths, each taken as a rectangular distribution',
      },
    ],
    limits: [
      'A measured gap holds more than storage: the first gap of any margin, investment and casting. That part is fitted as a constant and never added to a prediction.',
      'A burnout is checked by the time at temperature of the furnace without a break; the core of the mould is not measured, nor its residue.',
      'It adds figures; mixing, ring, liner and burnout move the expansion of the investment by more than most of them.',
    ],
    plots: [],
    checks: ['fit-budget'],
  },
  {
    title: 'Burns',
    files: ['burn-caution'],
    formulas: [
      {
        tex: String.raw`t(T) = t_k, \qquad T_k = \min\{T_i : T_i \ge T\}`,
        where: '$t_i$ shortest time to injury on record at the temperature $T_i$',
      },
    ],
    limits: [
      'It informs. A heater needs its own cut-out; makers and local codes come first.',
      'A burn caution is a text chosen by temperature. It is no medical advice and no safety limit: no temperature here is safe to touch because it is not listed.',
    ],
    plots: [],
    checks: ['burn-caution'],
  },
];
