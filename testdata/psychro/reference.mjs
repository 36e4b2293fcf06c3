// Prints moist-air values of psychrolib (ASHRAE Handbook—Fundamentals 2017, SI) as
// JSON lines. Install with `npm ci` beside this file.
import { createRequire } from "node:module";
const psychrolib = createRequire(import.meta.url)("psychrolib");
psychrolib.SetUnitSystem(psychrolib.SI);

for (const altitude of [0, 300, 1500]) {
  const p = psychrolib.GetStandardAtmPressure(altitude);
  for (const t of [-15, -3, 0, 5, 12, 20, 26, 35, 60, 85]) {
    for (const rh of [0.1, 0.5, 0.9, 1.0]) {
      const w = psychrolib.GetHumRatioFromRelHum(t, rh, p);
      console.log(JSON.stringify({
        altitude_m: altitude, t_c: t, rh,
        p_pa: p,
        pws_pa: psychrolib.GetSatVapPres(t),
        w_kg_kg: w,
        h_j_kg: psychrolib.GetMoistAirEnthalpy(t, w),
        v_m3_kg: psychrolib.GetMoistAirVolume(t, w, p),
        dew_c: psychrolib.GetTDewPointFromRelHum(t, rh),
        t_back_c: psychrolib.GetTDryBulbFromEnthalpyAndHumRatio(psychrolib.GetMoistAirEnthalpy(t, w), w),
      }));
    }
  }
}
