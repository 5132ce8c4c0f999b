/**
 * What the control loop needs from the world, in the words of the process. One package per
 * technology implements these; none of them decides anything.
 */
package org.evenwash.controller.port;
