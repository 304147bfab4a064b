// What is known of one class of wax: every figure the science needs, each with standing and source.
// Temperatures in °C, conductivity W/(m K), density kg/m³, heat capacity J/(kg K), latent heat J/kg.

import type { Technique } from './technique.ts';
import type { WaxClassId } from './wax-class-id.ts';
import type { WaxSpan, WaxValue } from './wax-value.ts';

/**
 * A limit of a flow or penetration test at one temperature, in percent. Flow: shortening of a cylinder of
 * 10 mm by 6 mm diameter under 19.6 N for 10 min. Penetration is another test and is never mixed with flow.
 */
export interface FlowLimit {
  readonly test: 'flow' | 'penetration';
  readonly celsius: number;
  readonly atLeast?: WaxValue;
  readonly atMost?: WaxValue;
}

/** Linear expansion per kelvin from `from` up to the next piece; the last one holds up to `measuredTo`. */
export interface ExpansionPiece {
  readonly from: WaxValue;
  readonly coefficient: WaxValue;
}

/** The most that a specification lets the wax grow between two temperatures, as a strain. */
export interface ExpansionLimit {
  readonly fromCelsius: number;
  readonly toCelsius: number;
  readonly atMost: WaxValue;
}

export interface RelaxationProperties {
  /** Temperature at which `tau` holds, °C. */
  readonly reference: WaxValue;
  /** Time constant of the stretched exponential at the reference temperature, s. */
  readonly tau: WaxValue;
  /** Exponent of the stretched exponential, 0 to 1. */
  readonly beta: WaxValue;
  /** Of the Arrhenius shift, J/mol. */
  readonly activationEnergy: WaxValue;
  /** Strain frozen in by each technique, as a fraction. */
  readonly frozenStrain: Readonly<Record<Technique, WaxValue>>;
  /** Half width of the band of each parameter: `tau` is divided and multiplied, the others subtracted and added. */
  readonly spread: {
    readonly tauFactor: WaxValue;
    readonly beta: WaxValue;
    readonly frozenStrainShare: WaxValue;
  };
}

export interface WaxClass {
  readonly id: WaxClassId;
  readonly name: string;
  /** Where it is shaped, softened or held for work. */
  readonly workingWindow: WaxSpan;
  /** Where it is kept molten. */
  readonly potWindow?: WaxSpan;
  /** Dry heat of a softening cabinet. */
  readonly annealWindow?: WaxSpan;
  readonly bathWindow?: WaxSpan;
  /** Above this the wax must never be. */
  readonly ceiling: WaxValue;
  /** Where the solid softens (solid-solid transition where there is one). */
  readonly transition: WaxSpan;
  readonly melting: WaxSpan;
  /** Patterns of it lie below this. */
  readonly storageMax: WaxValue;
  readonly flow: readonly FlowLimit[];
  readonly expansion: readonly ExpansionPiece[];
  /** Upper end of the expansion measurement, °C. */
  readonly measuredTo: WaxValue;
  /** Of its specification; absent where there is none. */
  readonly expansionLimits?: readonly ExpansionLimit[];
  /** Volume lost from liquid to solid, as a fraction of the liquid's volume. */
  readonly solidificationShrinkage: WaxValue;
  readonly conductivity: { readonly solid: WaxValue; readonly liquid: WaxValue };
  readonly density: { readonly solid: WaxValue; readonly liquid: WaxValue };
  readonly heatCapacity: { readonly solid: WaxValue; readonly liquid: WaxValue };
  readonly latentHeat: WaxValue;
  readonly kinetics: {
    /** Apparent activation energy of ageing in the pot, J/mol. */
    readonly activationEnergy: WaxValue;
    /** Temperature at which one hour is one equivalent hour, °C. */
    readonly reference: WaxValue;
    /** Heat of evaporation of what the wax loses, J/mol. */
    readonly evaporationEnthalpy: WaxValue;
  };
  /** Equivalent hours after which the charge is spent. */
  readonly doseAllowance: WaxValue;
  readonly relaxation: RelaxationProperties;
}
