/** Standard acceleration of free fall, m/s² (exact; NIST SP 811). */
export const gravityMS2 = 9.80665;

/** 0 °C, K (exact). */
export const zeroCelsiusK = 273.15;

/** One horsepower of 550 ft·lbf/s, W (NIST SP 811). */
export const horsepowerW = 745.6999;
