/** The part that the tests use of a library that comes without types: pressures Pa, shares 0 to 1. */
declare module "psychrolib" {
  const psychrolib: {
    SI: number;
    SetUnitSystem(system: number): void;
    GetSatVapPres(dryBulbC: number): number;
    GetVapPresFromRelHum(dryBulbC: number, humidity: number): number;
    GetTDewPointFromVapPres(dryBulbC: number, vapourPa: number): number;
    GetHumRatioFromVapPres(vapourPa: number, pressurePa: number): number;
    GetMoistAirVolume(dryBulbC: number, humidityRatio: number, pressurePa: number): number;
    GetVaporPressureDeficit(dryBulbC: number, humidityRatio: number, pressurePa: number): number;
  };
  export default psychrolib;
}
