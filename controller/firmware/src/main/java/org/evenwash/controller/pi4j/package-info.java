/**
 * The bench's wires on a real board: GPIO lines, PWM, 1-wire and I2C, through Pi4J. Everything here implements a port and
 * decides nothing; the one exception is the wiring check, which judges wires, not washes.
 */
package org.evenwash.controller.pi4j;
