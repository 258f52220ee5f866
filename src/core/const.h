/* SPDX-License-Identifier: GPL-3.0-or-later */
/* const.h - constants of nature and of the standards, with their sources. */
#ifndef HB_CORE_CONST_H
#define HB_CORE_CONST_H

#define HB_STEFAN_BOLTZMANN 5.670374419e-8 /* W/(m^2 K^4), CODATA 2018 */
#define HB_GAS              8.314462618    /* J/(mol K), CODATA 2018 */
#define HB_GRAVITY          9.80665        /* m/s^2, standard gravity, CGPM 1901 */
#define HB_ATMOSPHERE       101325.0       /* Pa, standard atmosphere */
#define HB_GAS_AIR          287.05         /* J/(kg K), dry air, ISO 2533 */
#define HB_CELSIUS          273.15         /* K at 0 degC */
#define HB_KELVIN_25C       298.15
#define HB_YEAR             31557600.0       /* s, Julian year */
#define HB_CRITICAL_RATIO   0.52828178771174 /* (2/2.4)^3.5: choked flow of a gas with gamma 1.4 */
#define HB_PI               3.14159265358979323846
#define HB_FLAT_PRESSURE    70e3         /* Pa: flat running is 0-70 kPa (UN R30) */
#define HB_RULE_DISTANCE    80e3         /* m, UN R30 flat-tyre running mode and the rule */
#define HB_RULE_SPEED       (80.0 / 3.6) /* m/s */

#endif
