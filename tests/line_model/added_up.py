"""What adds up along a record's profile: the tests' own way back from metres."""

from line_model.worksheet.record import Profile


def up_to(profile: Profile, at_m: float) -> float:
    """What has added up between the near end and a place."""
    amount = 0.0
    for length_m, per_m in zip(profile.lengths_m, profile.per_m, strict=True):
        amount += per_m * min(max(at_m, 0.0), length_m)
        at_m -= length_m
    return amount
