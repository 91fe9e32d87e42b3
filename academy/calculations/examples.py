"""One example for each calculation on the page; every figure in them is invented."""

from __future__ import annotations

from collections.abc import Mapping

_ONE_WAY: Mapping[str, object] = {
    "force_n": 40,
    "pad_mm": 150,
    "arm_speed_mm_s": 50,
    "overlap": 0.5,
    "passes": 4,
    "mean_m_s": 3.5,
}

EXAMPLES: Mapping[str, Mapping[str, object]] = {
    "machine-speed": {
        "kind": "dual-action",
        "pad_mm": 150,
        "throw_mm": 15,
        "orbits_per_min": 4200,
        "rpm": 300,
    },
    "dwell": {
        "pad_mm": 150,
        "arm_speed_mm_s": 50,
        "overlap": 0.5,
        "passes": 4,
        "section_mm": 450,
        "mean_m_s": 3.5,
    },
    "contact-pressure": {"force_n": 40, "pad_mm": 150, "overhang_mm": 40},
    "removal-ratio": {"reference": _ONE_WAY, "choice": {**_ONE_WAY, "passes": 6, "force_n": 30}},
    "may-cut-again": {
        "baseline_um": 118,
        "now_um": 114.5,
        "planned_um": 1.5,
        "planned_uncertainty_um": 0.8,
        "minimum_now_um": 109,
        "history": "known",
        "substrate": "steel",
    },
    "removal": {
        "spots": [
            {"before_um": [118.2, 117.9, 118.4], "after_um": [116.4, 116.7, 116.2]},
            {"before_um": [117.6, 117.2, 117.5], "after_um": [115.1, 115.6, 115.4]},
            {"before_um": [119.0, 118.6, 118.8], "after_um": [116.9, 117.3, 117.0]},
        ],
        "resolution_um": 0.1,
    },
    "panel-heat": {
        "force_n": 40,
        "pad_mm": 130,
        "mean_m_s": 3.5,
        "friction": 0.4,
        "substrate": "steel",
        "thickness_mm": 0.8,
        "seconds": 10,
    },
    "late-reading": {"heated_s": 20, "waited_s": 15},
    "gauge-verification": {
        "certified_um": 102.4,
        "readings": [103.1, 102.8, 103.4],
        "gauge_tolerance": {"absolute_um": 1, "percent": 1},
        "standard_tolerance": {"absolute_um": 0.5, "percent": 0},
    },
    "statistics": {"values": [112.4, 113.1, 111.8, 112.9, 112.2]},
    "paired-difference": {
        "first": [118.2, 117.6, 119.0, 116.8],
        "second": [116.4, 115.1, 116.9, 115.0],
    },
    "readings-needed": {"sd_um": 0.8, "resolve_um": 1},
    "conformity": {"value": 2.4, "u": 0.4, "upper": 3},
    "guard-band": {"limit": 3, "u": 0.4, "risk": 0.05, "side": "maximum"},
    "convert": {"value": 4.5, "from": "mil", "to": "um"},
    "vibration": {"exposures": [{"m_s2": 5, "hours": 1.5}, {"m_s2": 3.5, "hours": 2}]},
    "noise": {"exposures": [{"dba": 92, "hours": 2}, {"dba": 86, "hours": 4}], "rule": "niosh"},
    "dew-point": {"air_c": 22, "rh_percent": 65, "panel_c": 19},
    "dilution": {"stock_percent": 70, "target_percent": 15, "volume_ml": 500},
    "proportion": {"passed": 11, "tried": 12},
    "panels-for-proof": {"target": 0.9, "confidence": 0.95},
}
