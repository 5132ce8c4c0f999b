/**
 * How long to agitate. Read {@link org.evenwash.analysis.agitation.AgitationTime} first: it decides
 * what may be said; the {@code ...Fit} records hold the three curves, with every figure and no
 * minimum of data; {@link org.evenwash.analysis.agitation.AgitationPlan} tells how many washes a
 * wanted closeness takes.
 */
package org.evenwash.analysis.agitation;
