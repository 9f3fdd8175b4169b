/** The formulas as they are shown, and how this reading's numbers go into them. Sources as in FORMULAS.md. */
import { combustionTexts } from '../../words/core/combustion.ts';
import { co2MaxOfAnalysis } from '../co2-max.ts';
import type { DerivedKey } from '../../measurement/derived.ts';
import {
  AIR,
  O2_IN_AIR_EPA_PERCENT,
  STANDARD_PRESSURE_PA,
  WATER_LATENT_25C_KJ_PER_KMOL,
  WATER_LATENT_SLOPE_KJ_PER_KMOL_K,
} from '../constants.ts';
import { SO3_SHARE } from '../dew-point.ts';
import { AIR_MOISTURE_KMOL, type FlueGas } from '../flue-gas.ts';
import type { Fuel } from '../fuel.ts';
import { enthalpy, type Species } from '../gas-properties.ts';
import { siegertConstants } from '../siegert.ts';

export type FormulaNumbers = {
  readonly fuel: Fuel;
  readonly values: Partial<Record<DerivedKey, number>>;
  readonly o2: number;
  readonly coPpm: number;
  readonly stackC: number;
  readonly airC: number;
  readonly pressurePa: number;
  readonly humidity: number;
  readonly gas: FlueGas | undefined;
};
export type FormulaText = { readonly formula: string; readonly source: string; readonly numbers: (n: FormulaNumbers) => string };

const BALANCE = 'mole balance of complete combustion (FORMULAS.md)';
const EPA = 'US trade form with the EPA constant 20.9 (40 CFR 60 App. A, Method 19; from memory)';
const HEAT_LOSS = 'heat-loss method; enthalpies NASA TM-4513 (FORMULAS.md)';

/** Five significant digits are enough to follow the sum by hand. */
const f = (value: number | undefined): string => {
  if (value === undefined) return '--';
  const text = Number(value.toPrecision(5));
  return text < 0 ? `(${text})` : String(text);
};
const equals = (text: string, value: number | undefined, unit: string): string => `${text} = ${f(value)} ${unit}`.trimEnd();
const sumOfLosses = ({ values: v }: FormulaNumbers): string =>
  [v.lossDryGasPercent, v.lossVapourPercent, v.lossAirMoisturePercent, v.lossCoPercent ?? 0].map(f).join(' + ');
const rise = (species: Species, { stackC, airC }: FormulaNumbers): number =>
  enthalpy(species, stackC + 273.15) - enthalpy(species, airC + 273.15);
const wet = ({ gas }: FormulaNumbers): number => (gas === undefined ? 0 : gas.dry + gas.h2o);
const so3Pa = (n: FormulaNumbers): number => (n.gas === undefined ? 0 : ((SO3_SHARE * n.gas.so2) / wet(n)) * n.pressurePa);
const waterPa = (n: FormulaNumbers): number => ((n.values.h2oWetPercent ?? 0) / 100) * n.pressurePa;
const speciesLabels = { co2: 'CO2', n2: 'N2', o2: 'O2', ar: 'Ar', so2: 'SO2', co: 'CO' } as const;
const MMHG = 760 / STANDARD_PRESSURE_PA;

export const formulaTexts: Readonly<Record<DerivedKey, FormulaText>> = {
  netStackC: {
    formula: 'stack - air',
    source: 'definition',
    numbers: (n) => equals(`${f(n.stackC)} - ${f(n.airC)}`, n.values.netStackC, 'K'),
  },
  co2Percent: {
    formula: 'CO2 = 100 (nC - nCO)/D; without CO, and with a CO2max that was set: CO2max (1 - O2/20.946)',
    source: BALANCE,
    numbers: (n) =>
      equals(
        n.fuel.co2MaxSetPercent === undefined
          ? `100 × (${f(n.fuel.stoichiometry.carbon)} - ${f(n.gas?.co)})/${f(n.gas?.dry)}`
          : n.coPpm === 0
            ? `${f(n.fuel.co2MaxSetPercent)} × (1 - ${f(n.o2)}/20.946)`
            : `${f(n.fuel.co2MaxSetPercent)} × [20.946 (1 - ${f(n.coPpm * 1e-6)}/2) + ${f(n.coPpm * 1e-4)}/2 - ${f(n.o2)}]/20.946 - ${f(n.coPpm * 1e-4)}`,
        n.values.co2Percent,
        '%',
      ),
  },
  co2MaxPercent: {
    formula: 'CO2max = 100 nC/dry0, or as it was set',
    source: `${BALANCE}; SO2 not counted`,
    numbers: (n) =>
      equals(
        n.fuel.co2MaxSetPercent === undefined
          ? `100 × ${f(n.fuel.stoichiometry.carbon)}/${f(n.fuel.stoichiometry.dryGas)}`
          : combustionTexts.co2MaxSet(f(co2MaxOfAnalysis(n.fuel))),
        n.values.co2MaxPercent,
        '%',
      ),
  },
  excessAirPercent: {
    formula: 'EA = 100 K a/(0.20946 (1 - CO/2) - a), a = O2 - CO/2 (fractions), K = dry0/Air',
    source: `${BALANCE}; not the form O2/(20.9 - O2)`,
    numbers: (n) => {
      const y = n.coPpm * 1e-6;
      const a = n.o2 / 100 - y / 2;
      return equals(
        `100 × ${f(n.fuel.stoichiometry.dryGasAirRatio)} × ${f(a)}/(${f(AIR.o2 * (1 - y / 2))} - ${f(a)})`,
        n.values.excessAirPercent,
        '%',
      );
    },
  },
  lambda: {
    formula: 'lambda = 1 + EA/100',
    source: 'definition',
    numbers: (n) => equals(`1 + ${f(n.values.excessAirPercent)}/100`, n.values.lambda, ''),
  },
  coAirFreePpm: {
    formula: 'CO air-free = CO × 20.9/(20.9 - O2)',
    source: EPA,
    numbers: (n) =>
      equals(`${f(n.coPpm)} × ${O2_IN_AIR_EPA_PERCENT}/(${O2_IN_AIR_EPA_PERCENT} - ${f(n.o2)})`, n.values.coAirFreePpm, 'ppm'),
  },
  coAt3PercentO2Ppm: {
    formula: 'CO at 3 % O2 = CO × (20.9 - 3)/(20.9 - O2)',
    source: EPA,
    numbers: (n) => equals(`${f(n.coPpm)} × 17.9/(${O2_IN_AIR_EPA_PERCENT} - ${f(n.o2)})`, n.values.coAt3PercentO2Ppm, 'ppm'),
  },
  coMgPerKwh: {
    formula: 'mg/kWh = CO × 20.946/(20.946 - O2) × dry0 × 28.010 × 3600/LHV',
    source: `${BALANCE}; EN 267 lists 1.110 mg/kWh per ppm at 0 % O2 for oil (from memory)`,
    numbers: (n) =>
      equals(
        `${f(n.coPpm)} × 20.946/(20.946 - ${f(n.o2)}) × ${f(n.fuel.stoichiometry.dryGas)} × 28.010 × 3600/${f(n.fuel.lhvKjPerKg)}`,
        n.values.coMgPerKwh,
        'mg/kWh',
      ),
  },
  lossDryGasPercent: {
    formula: 'dry gas = 100/HHV × sum n [h(stack) - h(air)] over CO2, N2, O2, Ar, SO2, CO',
    source: HEAT_LOSS,
    numbers: (n) => {
      const { gas } = n;
      if (gas === undefined) return '--';
      const rows = (['co2', 'n2', 'o2', 'ar', 'so2', 'co'] as const).filter((species) => gas[species] > 0);
      const terms = rows.map((species) => `${f(gas[species])} × ${f(rise(species, n))} (${speciesLabels[species]})`).join(' + ');
      return equals(`100/${f(n.fuel.hhvKjPerKg)} × [${terms}]`, n.values.lossDryGasPercent, '%');
    },
  },
  lossLatentPercent: {
    formula: "latent = 100/HHV × nW × [44004 - 41.71 (air - 25 °C)], nW: water of the fuel's hydrogen and moisture",
    source: 'condensation heat at 25 °C: CODATA (from memory), carried to the air temperature',
    numbers: (n) => {
      const latent = WATER_LATENT_25C_KJ_PER_KMOL + WATER_LATENT_SLOPE_KJ_PER_KMOL_K * (n.airC - 25);
      return equals(`100/${f(n.fuel.hhvKjPerKg)} × ${f(n.fuel.stoichiometry.water)} × ${f(latent)}`, n.values.lossLatentPercent, '%');
    },
  },
  lossVapourPercent: {
    formula: 'vapour = 100/HHV × nW × [hH2O(stack) - hH2O(air)]',
    source: HEAT_LOSS,
    numbers: (n) =>
      equals(`100/${f(n.fuel.hhvKjPerKg)} × ${f(n.fuel.stoichiometry.water)} × ${f(rise('h2o', n))}`, n.values.lossVapourPercent, '%'),
  },
  lossAirMoisturePercent: {
    formula: 'air moisture = 100/HHV × (1 + EA) Air × w × 28.966/18.015 × [hH2O(stack) - hH2O(air)]',
    source: HEAT_LOSS,
    numbers: (n) =>
      equals(
        `100/${f(n.fuel.hhvKjPerKg)} × ${f(n.values.lambda)} × ${f(n.fuel.stoichiometry.air)} × ${f(n.humidity)} × ${f(AIR_MOISTURE_KMOL)} × ${f(rise('h2o', n))}`,
        n.values.lossAirMoisturePercent,
        '%',
      ),
  },
  lossCoPercent: {
    formula: 'CO loss = 100/HHV × nCO × 282 980',
    source: 'heat of combustion of CO: CODATA (from memory)',
    numbers: (n) => equals(`100/${f(n.fuel.hhvKjPerKg)} × ${f(n.gas?.co)} × 282980`, n.values.lossCoPercent, '%'),
  },
  stackLossPercent: {
    formula: 'stack loss = dry gas + vapour + air moisture + CO + latent',
    source: `${HEAT_LOSS}; jacket and cycling losses not included`,
    numbers: (n) => equals(`${sumOfLosses(n)} + ${f(n.values.lossLatentPercent)}`, n.values.stackLossPercent, '% of HHV'),
  },
  stackLossLhvPercent: {
    formula: 'stack loss (LHV) = (dry gas + vapour + air moisture + CO) × HHV/LHV',
    source: `${HEAT_LOSS}; without the latent heat`,
    numbers: (n) =>
      equals(`(${sumOfLosses(n)}) × ${f(n.fuel.hhvKjPerKg)}/${f(n.fuel.lhvKjPerKg)}`, n.values.stackLossLhvPercent, '% of LHV'),
  },
  efficiencyHhvPercent: {
    formula: 'efficiency = 100 - stack loss',
    source: `${HEAT_LOSS}; steady state, not seasonal`,
    numbers: (n) => equals(`100 - ${f(n.values.stackLossPercent)}`, n.values.efficiencyHhvPercent, '% of HHV'),
  },
  efficiencyLhvPercent: {
    formula: 'efficiency (LHV) = 100 - stack loss (LHV)',
    source: `${HEAT_LOSS}; steady state, not seasonal`,
    numbers: (n) => equals(`100 - ${f(n.values.stackLossLhvPercent)}`, n.values.efficiencyLhvPercent, '% of LHV'),
  },
  siegertLossPercent: {
    formula: 'qA = (stack - air) × [A/(21 - O2) + B]',
    source: '1. BImSchV of 26 Jan 2010, Annex 2 No. 3.4.1',
    numbers: (n) => {
      const constants = n.fuel.siegertGroup === undefined ? undefined : siegertConstants[n.fuel.siegertGroup];
      return equals(
        `(${f(n.stackC)} - ${f(n.airC)}) × [${f(constants?.a)}/(21 - ${f(n.o2)}) + ${f(constants?.b)}]`,
        n.values.siegertLossPercent,
        '% of LHV',
      );
    },
  },
  h2oWetPercent: {
    formula: 'H2O = 100 nH2O/(D + nH2O), the moisture of the air included',
    source: BALANCE,
    numbers: (n) => equals(`100 × ${f(n.gas?.h2o)}/(${f(n.gas?.dry)} + ${f(n.gas?.h2o)})`, n.values.h2oWetPercent, '%'),
  },
  waterDewPointC: {
    formula: 'saturation pressure at the dew point = H2O × barometer',
    source: 'Wagner and Pruss, IAPWS 1992 (from memory, agrees with IF97)',
    numbers: (n) =>
      equals(`psat = ${f(n.values.h2oWetPercent)}/100 × ${f(n.pressurePa)} Pa = ${f(waterPa(n))} Pa; t`, n.values.waterDewPointC, '°C'),
  },
  waterDewPointMarginK: {
    formula: 'stack - water dew point',
    source: 'definition',
    numbers: (n) => equals(`${f(n.stackC)} - ${f(n.values.waterDewPointC)}`, n.values.waterDewPointMarginK, 'K'),
  },
  acidDewPointC: {
    formula: '1000/T = 2.276 - 0.0294 ln pH2O - 0.0858 ln pSO3 + 0.0062 ln pH2O ln pSO3 (mmHg, K); SO3 = 1.1 mol % of the sulphur',
    source: 'Verhoff and Banchero, Chem. Eng. Progr. 70(8) 1974; SO3 share AP-42 section 1.3 (from memory)',
    numbers: (n) => equals(`pH2O ${f(waterPa(n) * MMHG)} mmHg, pSO3 ${f(so3Pa(n) * MMHG)} mmHg; t`, n.values.acidDewPointC, '°C'),
  },
  acidDewPointOkkesC: {
    formula: 't = 203.25 + 27.6 lg pH2O + 10.83 lg pSO3 + 1.06 (lg pSO3 + 8)^2.19 (atm)',
    source: 'Okkes, Hydrocarbon Processing, July 1987',
    numbers: (n) =>
      equals(
        `pH2O ${f(waterPa(n) / STANDARD_PRESSURE_PA)} atm, pSO3 ${f(so3Pa(n) / STANDARD_PRESSURE_PA)} atm; t`,
        n.values.acidDewPointOkkesC,
        '°C',
      ),
  },
  acidDewPointMarginK: {
    formula: 'stack - acid dew point (first correlation)',
    source: 'definition',
    numbers: (n) => equals(`${f(n.stackC)} - ${f(n.values.acidDewPointC)}`, n.values.acidDewPointMarginK, 'K'),
  },
};
