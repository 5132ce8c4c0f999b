/**
 * The share of mites that a wash brings off the bees: from second washes, from two or three passes of
 * equal effort.
 */
package org.evenwash.analysis.recovery;
