/** How many bees a fill line or a weighed sample holds, calibrated by samples that were counted. */
package org.evenwash.analysis.beecount;
