/**
 * The statistics of circle trials: circles nested in cells, readings nested in circles.
 *
 * <p>Reading j of circle i in cell k is y = D_k + b_ki + e_kij with b ~ N(0, σ_b²) and e ~ N(0, w·σ_w²), where w tells how
 * much more variance a kind of reading has than a tape laid straight across. Both standard deviations are pooled over the
 * cells given. Lengths in metres throughout, though nothing here depends on the unit. Pure functions without random
 * numbers. Start reading at {@link org.fairturn.uncertainty.RepeatabilityPosterior}.
 *
 * <p>May use: units.
 */
package org.fairturn.uncertainty;
