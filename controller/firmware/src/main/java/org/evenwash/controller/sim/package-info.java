/**
 * A bench without a bench: the same ports, a motor with inertia, jars, lid, stop chain and
 * temperatures, in virtual time and from a seed. The same seed and the same calls always give the
 * same run.
 */
package org.evenwash.controller.sim;
