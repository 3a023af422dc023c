/**
 * The contract of entries, one line for each shape of a value; made from the types of the shop by
 * `python -m webapp.shoplog.rules.document`, and read by contract.js.
 */
export const TABLE = String.raw`like ^[0-9a-f]{8}-[0-9a-f]{4}-[0-9a-f]{4}-[0-9a-f]{4}-[0-9a-f]{12}$
whole 1 10000000
null
either 0 2
one as_found, fit_up, as_left, recheck
either 4 2
object 16384
text 0 4000
either 7 2
like ^\d{4}-\d\d-\d\dT\d\d:\d\d:\d\d(\.\d{1,6})?(Z|[+-]\d\d:\d\d)$
text 1 64
open id 0 phone 0 local_no 1 vehicle 3 job 3 round 5 body 6 typed 8 made_at 9 build 10
never
text 1 120
one in, mm
above 0 100
one left, right
one hub, rotor, knuckle, tire
one square_to_rail, plumb_bob
one front, rear
either 16 2
number -20000 20000
either 21 2
one one_end, both_ends, fixed
either 23 2
either 15 2
number 0 100
either 26 2
number 0 20000
list 28 2 2
either 28 29
either 30 2
only kind? 24 pitch? 25 step? 27 thread_left? 31
either 32 2
open frame_end? 20 length? 22 frame_height? 22 axle_height? 22 fore_aft? 22
 frame_end_from_center? 22 bump? 22 droop? 22 axle_tube_height? 22 rail_height? 22 adjuster? 33
names 19 34
one forward, rearward
either 36 2
open frame_end? 20 length? 22 frame_height? 22 axle_height? 22 fore_aft? 22 arm? 22 arm_points?
 37 ratio? 25 adjuster? 33
names 19 38
above 0 20000
either 40 2
list 19 0 Infinity
boolean
open sum 21 u 28
names 17 44
names 19 45
text 1 60
either 28 2
text 1 200
either 49 2
open maker_limit? 48 maker_source? 50 house_limit? 48 joint? 47
names 47 51
names 19 52
either 47 2
one nut, bolt
either 55 2
one dry, oiled, locking compound, new fastener
either 57 2
above 0 720
either 59 2
either 43 2
open fastener 47 value? 41 figure? 54 also? 41 also_figure? 54 tolerance? 48 source? 50 end? 56
 thread? 58 then_angle? 60 tool? 54 rubber? 43 on_springs? 43 moved? 61
list 62 0 Infinity
names 19 63
one km, mi
either 65 2
day ^2\d{3}-\d\d-\d\d$
either 67 2
only distance? 41 unit? 66 date? 68
either 69 2
names 19 70
only left 28 right 28
names 19 72
names 19 21
one this_job, pending, accepted
list 28 0 Infinity
only left 76 right 76 read_to? 25 known_lean? 22
either 77 2
only offset 21 expanded 28 length_change 21 changed 43 round 4 of 75 heights? 78
either 79 2
text 0 40
list 81 0 Infinity
open before 80 changes 82
names 19 83
one track_bar.frame_height, track_bar.axle_height, drag_link.frame_height, drag_link.axle_height
list 85 0 Infinity
names 19 86
like ^[0-9A-Z]{4}-[0-9A-Z]{4}$
either 88 2
open by? 89
names 88 90
open replaces? 3 id? 12 tags? 12 unaccepted? 12 from_job? 3 name? 13 note? 7 units? 14 read_to?
 15 driving_side? 16 face? 17 method? 18 track_bars? 35 drag_links? 39 rail_width? 41 track? 41
 axles? 42 retired? 43 known_sums? 46 joint_limits? 53 torques? 64 rechecks? 71 remeasure? 71
 ride_heights? 73 known_leans? 74 last_rounds? 84 links_older? 87 replaced_tags? 91 merged_into?
 0
open replaces? 3 code 88 first? 43
one offset, repeat, face_u, lean, bolt_clearance, clearance, bump_steer
text 1 1000
open name 94 value 40 reason 95 from? 67 replaces? 3
text 0 120
open replaces? 3 axle 19 round 4 about 97 second_of? 3
text 1 40
open replaces? 3 step 99 field 99
one level, tires, load, settled, straight, bar_fitted, swung
open replaces? 3 field 101 value 43
text 1 4000
open replaces? 3 text 103
open replaces? 3 target 0 reason 95
list 95 0 Infinity
text 0 1000
either 107 2
open replaces? 3 missing 106 reason 108
one accepted, sent_back
open replaces? 3 hand_in 0 verdict 110 reason 108 step? 99 own_reason? 108 before? 3 keeps? 43
one final_welding, road
open replaces? 3 hold_point 112 reason 95 open? 106
open replaces? 3 axle 19 says 95 reason 95
one implausible, differs_from_file, sum_differs, one_side_differs, wrong_side,
 moved_unexplained, height_changed, leans, links_older
open replaces? 3 code 115 key 49 says 95
one bar_turned, link_turned, bar_replaced, bracket_moved, pitman_changed, hole_repaired,
 part_replaced, link_replaced, springs_changed, wheels_changed, toe_set, arm_moved, part_removed
number -2000 2000
either 118 2
one up, down, left, right, forward, rearward
either 120 2
either 97 2
open replaces? 3 what? 117 turns? 22 length_change? 119 moved? 119 toward? 121 part? 122 text?
 108
like ^[0-9a-f]{64}$
whole 1 1600
whole 1 3145728
open replaces? 3 sha256 124 of 47 width 125 height 125 bytes 126 text? 108
open replaces? 3 name 47 axle_end_up? 118 frame_end_down? 118 pitman_down? 118 link_axle_end_up?
 118 height_change? 118
open replaces? 3 step 99 field 16 value 21 unit 14 read_to 15 face? 17 method? 18
one length, frame_height, axle_height, fore_aft, frame_end_from_center, bump, droop,
 axle_tube_height, rail_height
open replaces? 3 step 99 field 130 value 21 unit 14 read_to 15 face? 17 method? 18
one length, frame_height, axle_height, fore_aft, arm, toe_front, toe_rear, toe_span,
 wheelbase_left, wheelbase_right, wheelbase_track
open replaces? 3 step 99 field 132 value 21 unit 14 read_to 15 face? 17 method? 18
one along, bolt, hole_long, hole_short, sleeve, edge
one track_bar, drag_link, steering
either 29 2
open replaces? 3 step 99 field 134 joint 47 of 135 value 28 unit 14 read_to 15 how? 50 pair? 136
one gap
list 47 2 2
one ride, full_bump, full_droop, crossed
one left, straight, right
one touches, witness mark
either 142 2
open replaces? 3 step 99 field 138 between 139 state 140 lock 141 value? 48 mark? 143 unit? 14
 read_to? 15
one fastener
open fastener 47 value? 41 figure? 54 also? 41 also_figure? 54 tolerance? 48 source? 50 end? 56
 thread? 58 then_angle? 60 tool? 54 rubber? 43 on_springs? 43 moved? 61 replaces? 3 step 99
 field 145
one on_wheels, on_stands_loaded, hanging
open step 99 field 99 value 147 replaces? 3
open step 99 field 99 value 17 replaces? 3
open step 99 field 99 value 18 replaces? 3
open step 99 field 99 value 22 replaces? 3
open step 99 field 99 value 48 replaces? 3
number 0 45
either 153 2
open step 99 field 99 value 154 replaces? 3
open step 99 field 99 value 20 replaces? 3
open step 99 field 99 value 16 replaces? 3
open step 99 field 99 value 32 replaces? 3
open step 99 field 99 value 43 replaces? 3
open step 99 field 99 value 36 replaces? 3
open step 99 field 99 value 15 replaces? 3
number -1080 1080
list 162 0 Infinity
either 162 163
open step 99 field 99 value 164 replaces? 3
open maker_limit? 48 maker_source? 50 house_limit? 48 joint 47
open step 99 field 99 value 166 replaces? 3
one sleeve_in_rubber, sleeve_narrow, bolt_in_sleeve, bolt_in_hole, bracket, thread_in_hole
either 168 2
open joint 47 what? 169
open step 99 field 99 value 170 replaces? 3
open between 139 apart 43
open step 99 field 99 value 172 replaces? 3
open step 99 field 99 value 69 replaces? 3
is entry 11
is vehicle 92
is tag 93
is limit 96
is job 98
is reading 100
is tick 102
is pick 100
is note 104
is strike 105
is hand_in 109
is decision 111
is pass_over 113
is close_item 114
is confirm 116
is change 123
is photo 127
is plan 128
is reading.heights 129
is reading.centering 129
is reading.track_bar 131
is reading.drag_link 133
is reading.play 137
is reading.clearance 144
is reading.torque 146
is pick.heights.standing 148
is pick.centering.face 149
is pick.centering.method 150
is pick.centering.left_extra 151
is pick.centering.right_extra 151
is pick.centering.rail_point_height 152
is pick.centering.face_point_height 152
is pick.centering.tilt_deg 155
is pick.centering.high_side 156
is pick.track_bar.frame_end 157
is pick.track_bar.adjuster 158
is pick.track_bar.carried 159
is pick.drag_link.frame_end 157
is pick.drag_link.arm_points 160
is pick.drag_link.adjuster 158
is pick.drag_link.ratio 161
is pick.drag_link.carried 159
is pick.drag_link.wheel_deg 165
is pick.play.limit 167
is pick.play.loose 171
is pick.clearance.apart 173
is pick.torque.recheck 174
`;
