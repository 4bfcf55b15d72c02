"""Random-intercept models by restricted maximum likelihood: cells fixed, circles random.

Run in this folder: python fit.py > golden.csv
"""

import warnings

import numpy as np
import pandas as pd
from statsmodels.regression.mixed_linear_model import MixedLM, MixedLMParams

SETS = {
    "balanced": ("balanced.csv", "cell", "circle", "diameter_mm"),
    "unbalanced": ("unbalanced.csv", "cell", "circle", "diameter_mm"),
    "reading-scatter": ("reading-scatter.csv", "cell", "circle", "diameter_mm"),
    "dyestuff": ("../dyestuff.csv", None, "batch", "yield"),
    "rail": ("../rail.csv", None, "rail", "travel_ns"),
    "penicillin": ("../penicillin.csv", None, "sample", "diameter_mm"),
}

warnings.simplefilter("error")  # a last fit that does not converge stops the script
print("set,quantity,value")
for name, (file, cell, group, value) in SETS.items():
    data = pd.read_csv(file)
    cells = list(dict.fromkeys(data[cell])) if cell else ["all"]
    design = pd.DataFrame({c: (data[cell] == c).astype(float) if cell else [1.0] * len(data) for c in cells})
    model = MixedLM(data[value], design, groups=data[group])
    with warnings.catch_warnings(action="ignore"):
        first = model.fit(reml=True)
    rows = {}
    if name != "reading-scatter":  # its circle variance is 0, at the edge of what the library can fit
        # from where the first fit ended a second one takes the last digits
        fit = model.fit(start_params=first.params_object, reml=True, method="bfgs", gtol=1e-8)
        # (XᵀV⁻¹X)⁻¹; cov_params() would also count in how the means move with the estimated variances
        information = -model.hessian(fit.params_object)[0]
        cov = np.linalg.inv(information[: len(cells), : len(cells)])
        rows |= {
            "circle variance": fit.cov_re.iloc[0, 0],
            "reading variance": fit.scale,
        }
        for k, c in enumerate(cells):
            rows[f"mean {c}"] = fit.fe_params.iloc[k]
            rows[f"standard error {c}"] = cov[k, k] ** 0.5
        if len(cells) > 1:
            c = [-1.0, 1.0, 1.0, -1.0]  # (right − left in 2WD) − (right − left in 4WD)
            rows["contrast"] = sum(c[k] * fit.fe_params.iloc[k] for k in range(4))
            rows["standard error of the contrast"] = sum(
                c[i] * c[j] * cov[i, j] for i in range(4) for j in range(4)
            ) ** 0.5
    # restricted log-likelihood with the scale at its best, at given ratios of the two variances: no search in it
    for ratio in (0.0001, 0.01, 0.3, 1.0, 4.0, 50.0):
        at = MixedLMParams.from_components(fe_params=np.zeros(len(cells)), cov_re=np.array([[ratio]]))
        rows[f"log-likelihood at ratio {ratio}"] = model.loglike(at)
    for quantity, result in rows.items():
        print(f"{name},{quantity},{float(result)!r}")
