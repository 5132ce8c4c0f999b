/**
 * Thresholds as data, the verdict of a wash against one, and how many more bees would settle an
 * undecided one. Guideline thresholds speak of mites washed off, not corrected for those that stayed
 * on the bees: like is compared with like.
 */
package org.evenwash.analysis.threshold;
