/*
 * Superheat from a gauge and a clamp: what a firmware's loop does at every turn.
 *
 * Next to this file stand those of
 *     zeotrope lookup R-407C --for c --output lookups
 * Nothing else is needed: no library function is called.
 */
#include "zeotrope_r407c.h"

/* The board's own: what its sensors read, and its display. */
extern float gauge_pressure_Pa(void);       /* suction pressure above the atmosphere's */
extern float atmospheric_pressure_Pa(void); /* a barometer's, or that of the elevation set */
extern float line_temperature_K(void);      /* the clamp on the suction line */
extern void show_superheat_K(float superheat_K);
extern void show_no_reading(void);

/* One turn. Superheat is relative to the dew temperature, never to the bubble temperature. */
void superheat_turn(void);
void superheat_turn(void)
{
    float pressure_Pa = gauge_pressure_Pa() + atmospheric_pressure_Pa();
    float dew_K = zeotrope_r407c_dew_temperature_K(pressure_Pa);

    /* Outside the range, or from a broken sensor, dew_K is NaN: the only number unequal to itself. */
    if (dew_K != dew_K) {
        show_no_reading();
        return;
    }
    show_superheat_K(line_temperature_K() - dew_K);
}
