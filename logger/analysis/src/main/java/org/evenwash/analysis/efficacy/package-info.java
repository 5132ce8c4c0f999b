/** How much of the infestation a treatment took away: with a control, without, and over colonies. */
package org.evenwash.analysis.efficacy;
