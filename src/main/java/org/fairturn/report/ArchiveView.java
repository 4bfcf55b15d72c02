package org.fairturn.report;

import java.util.List;

/**
 * Everything archive.html shows, in the order it shows it.
 *
 * @param title what the archive is called
 * @param sentences what it teaches
 * @param warnings what was left out
 * @param figures drawings with their numbers
 * @param results tables of what was learnt
 * @param method how it was done, a paragraph each
 * @param data tables of the trials it was learnt from
 */
public record ArchiveView(
        String title,
        List<String> sentences,
        List<String> warnings,
        List<Figure> figures,
        List<Table> results,
        List<String> method,
        List<Table> data) {
    static final List<String> METHOD = List.of(
            "Each trial shows two sums of squares with their degrees of freedom for each machine and drive: of circle means about"
                    + " the mean of their turn and drive, and of readings about their circle. They give the likelihood of the"
                    + " standard deviations σ_b (circle to circle) and σ_w (reading to reading) of that trial. Sums of a machine's"
                    + " drives are added where drives count together.",
            "From trial to trial ln σ is taken to be normal about μ with standard deviation ω. Each trial's likelihood is averaged"
                    + " over that, and the product over the trials is what is known of μ and ω, together with one member nobody"
                    + " saw, whose σ is as the usual assumption has it (half of a t distribution with 4 degrees of freedom, scale"
                    + " 50 mm for σ_b and 20 mm for σ_w), and ω from 0.1 to 1.2 with half of a normal distribution of scale 0.5."
                    + " Typical is e to the power μ.",
            "The next of n + 1 trials is expected to be one of the kind seen so far with probability n/(n + 1), ln σ then being"
                    + " normal with the mean of μ and a variance of the mean of ω² plus that of μ; otherwise it is as the usual"
                    + " assumption has it. So no few calm trials rule out a rough one.",
            "Control chart: the level is the pooled standard deviation of all trials on earlier days; once five made it, one"
                    + " outside its limits does not move it unless the next is outside on the same side. A trial's variance"
                    + " over the level's is held against F at 0.135 % and 99.865 %, the risks of limits at three standard deviations. What a"
                    + " chart calls circle to circle is the scatter of circle means, with the readings' share in it. One trial in"
                    + " some hundred lies outside by chance, more where grounds differ from trial to trial; limits do not say what"
                    + " the reason is.",
            "Sources: Schmidli and others 2014 (prediction from past trials mixed with a vague part), Blackwell and MacQueen 1973"
                    + " (its share), Röver and others 2021 (scale of ω), Thomas and Hultquist 1978 (circles with unequal numbers of"
                    + " readings), ISO 7870-2 (control charts).");
}
