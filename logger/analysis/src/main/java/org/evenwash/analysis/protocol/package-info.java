/**
 * Protocols as data, the facts known of a wash, and the checks of one against the other. A check
 * never guesses: what is not known is "not assessed", and a point on which a protocol is silent is
 * not checked at all.
 */
package org.evenwash.analysis.protocol;
