/**
 * Fits that more than one analysis needs: a binomial regression with three links, a saturating curve
 * by least squares, and a search in one dimension.
 */
package org.evenwash.analysis.fit;
