"""The steps that others ask for by name. All of them, by verb, are in grammar.py."""

from farend_sim.bench.steps.block import Clip as Clip
from farend_sim.bench.steps.block import Pinch as Pinch
from farend_sim.bench.steps.block import Probe as Probe
from farend_sim.bench.steps.book import Note as Note
from farend_sim.bench.steps.book import Say as Say
from farend_sim.bench.steps.meter import Log as Log
from farend_sim.bench.steps.meter import MeterOff as MeterOff
from farend_sim.bench.steps.meter import MeterOn as MeterOn
from farend_sim.bench.steps.meter import Read as Read
from farend_sim.bench.steps.meter import Zero as Zero
from farend_sim.bench.steps.near_end import Keys as Keys
from farend_sim.bench.steps.near_end import Lift as Lift
from farend_sim.bench.steps.near_end import Listen as Listen
from farend_sim.bench.steps.near_end import Near as Near
from farend_sim.bench.steps.near_end import Restore as Restore
from farend_sim.bench.steps.near_end import Wait as Wait
from farend_sim.bench.steps.route import OpenJoint as OpenJoint
from farend_sim.bench.steps.route import Repair as Repair
from farend_sim.bench.steps.step import Step as Step
from farend_sim.bench.steps.unit import UnitBattery as UnitBattery
from farend_sim.bench.steps.unit import UnitClip as UnitClip
from farend_sim.bench.steps.unit import UnitFault as UnitFault
from farend_sim.bench.steps.unit import UnitGround as UnitGround
from farend_sim.bench.steps.unit import UnitOff as UnitOff
from farend_sim.bench.steps.unit import UnitUnclip as UnitUnclip
from farend_sim.bench.steps.unit import UnitWake as UnitWake
