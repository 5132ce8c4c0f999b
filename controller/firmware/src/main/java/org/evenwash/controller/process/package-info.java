/**
 * The machine that shakes the jars, as a function: {@link
 * org.evenwash.controller.process.Machine#step} takes a machine and what one scan saw, and gives
 * the next machine. Nothing here reads a clock, a file or a pin, and nothing waits: time is an
 * input. {@link org.evenwash.controller.process.Interlocks} is the whole safety story on one
 * screen; {@link org.evenwash.controller.process.Machine} is the order of events.
 */
package org.evenwash.controller.process;
