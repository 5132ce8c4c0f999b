/** Wires the station together. */
package org.evenwash.logger;
