/**
 * Washing spirit: strength, thinning, flash point, and how little of it makes a closed case
 * explosive. Where sources disagree, the cautious value is the one to act on. Nothing here can
 * certify a machine for explosive atmospheres.
 */
package org.evenwash.analysis.spirit;
