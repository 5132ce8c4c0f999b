/** What washes of some colonies say of the whole apiary, and how many washes and bees a plan needs. */
package org.evenwash.analysis.apiary;
