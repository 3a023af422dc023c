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
one final_welding, road
text 1 40
text 1 1000
text 1 400
list 78 0 Infinity
open hold_point 75 step 76 says 77 unseen 43 passed 43 about 79
list 80 0 Infinity
names 19 81
one this_job, pending, accepted
list 28 0 Infinity
only left 84 right 84 read_to? 25 known_lean? 22
either 85 2
only offset 21 expanded 28 length_change 21 changed 43 round 4 of 83 heights? 86
either 87 2
text 0 40
list 89 0 Infinity
open before 88 changes 90
names 19 91
one track_bar.frame_height, track_bar.axle_height, drag_link.frame_height, drag_link.axle_height
list 93 0 Infinity
names 19 94
like ^[0-9A-Z]{4}-[0-9A-Z]{4}$
either 96 2
open by? 97
names 96 98
open replaces? 3 id? 12 tags? 12 unaccepted? 12 from_job? 3 name? 13 note? 7 units? 14 read_to?
 15 driving_side? 16 face? 17 method? 18 track_bars? 35 drag_links? 39 rail_width? 41 track? 41
 axles? 42 retired? 43 known_sums? 46 joint_limits? 53 torques? 64 rechecks? 71 remeasure? 71
 ride_heights? 73 known_leans? 74 left_open? 82 last_rounds? 92 links_older? 95 replaced_tags?
 99 merged_into? 0
open replaces? 3 code 96 first? 43
one offset, repeat, face_u, lean, bolt_clearance, clearance, bump_steer
open name 102 value 40 reason 77 from? 67 replaces? 3
text 0 120
open replaces? 3 axle 19 round 4 about 104 second_of? 3
open replaces? 3 step 76 field 76
one level, tires, load, settled, straight, bar_fitted, swung
open replaces? 3 field 107 value 43
text 1 4000
open replaces? 3 text 109
open replaces? 3 target 0 reason 77
list 77 0 Infinity
text 0 1000
either 113 2
open replaces? 3 missing 112 reason 114
one accepted, sent_back
open replaces? 3 hand_in 0 verdict 116 reason 114 step? 76 own_reason? 114 before? 3 keeps? 43
open replaces? 3 hold_point 75 reason 77 open? 112
open replaces? 3 axle 19 says 77 reason 77
one implausible, differs_from_file, sum_differs, one_side_differs, wrong_side,
 moved_unexplained, height_changed, leans, links_older
open replaces? 3 code 120 key 49 says 77
one bar_turned, link_turned, bar_replaced, bracket_moved, pitman_changed, hole_repaired,
 part_replaced, link_replaced, springs_changed, wheels_changed, toe_set, arm_moved, part_removed
number -2000 2000
either 123 2
one up, down, left, right, forward, rearward
either 125 2
either 104 2
open replaces? 3 what? 122 turns? 22 length_change? 124 moved? 124 toward? 126 part? 127 text?
 114
like ^[0-9a-f]{64}$
whole 1 1600
whole 1 3145728
open replaces? 3 sha256 129 of 47 width 130 height 130 bytes 131 text? 114
open replaces? 3 name 47 axle_end_up? 123 frame_end_down? 123 pitman_down? 123 link_axle_end_up?
 123 height_change? 123
open replaces? 3 step 76 field 16 value 21 unit 14 read_to 15 face? 17 method? 18
one length, frame_height, axle_height, fore_aft, frame_end_from_center, bump, droop,
 axle_tube_height, rail_height
open replaces? 3 step 76 field 135 value 21 unit 14 read_to 15 face? 17 method? 18
one length, frame_height, axle_height, fore_aft, arm, toe_front, toe_rear, toe_span,
 wheelbase_left, wheelbase_right, wheelbase_track
open replaces? 3 step 76 field 137 value 21 unit 14 read_to 15 face? 17 method? 18
one along, bolt, hole_long, hole_short, sleeve, edge
one track_bar, drag_link, steering
either 29 2
open replaces? 3 step 76 field 139 joint 47 of 140 value 28 unit 14 read_to 15 how? 50 pair? 141
one gap
list 47 2 2
one ride, full_bump, full_droop, crossed
one left, straight, right
one touches, witness mark
either 147 2
open replaces? 3 step 76 field 143 between 144 state 145 lock 146 value? 48 mark? 148 unit? 14
 read_to? 15
one fastener
open fastener 47 value? 41 figure? 54 also? 41 also_figure? 54 tolerance? 48 source? 50 end? 56
 thread? 58 then_angle? 60 tool? 54 rubber? 43 on_springs? 43 moved? 61 replaces? 3 step 76
 field 150
one on_wheels, on_stands_loaded, hanging
open step 76 field 76 value 152 replaces? 3
open step 76 field 76 value 17 replaces? 3
open step 76 field 76 value 18 replaces? 3
open step 76 field 76 value 22 replaces? 3
open step 76 field 76 value 48 replaces? 3
number 0 45
either 158 2
open step 76 field 76 value 159 replaces? 3
open step 76 field 76 value 20 replaces? 3
open step 76 field 76 value 16 replaces? 3
open step 76 field 76 value 32 replaces? 3
open step 76 field 76 value 43 replaces? 3
open step 76 field 76 value 36 replaces? 3
open step 76 field 76 value 15 replaces? 3
number -1080 1080
list 167 0 Infinity
either 167 168
open step 76 field 76 value 169 replaces? 3
open maker_limit? 48 maker_source? 50 house_limit? 48 joint 47
open step 76 field 76 value 171 replaces? 3
one sleeve_in_rubber, sleeve_narrow, bolt_in_sleeve, bolt_in_hole, bracket, thread_in_hole
either 173 2
open joint 47 what? 174
open step 76 field 76 value 175 replaces? 3
open between 144 apart 43
open step 76 field 76 value 177 replaces? 3
open step 76 field 76 value 69 replaces? 3
is entry 11
is vehicle 100
is tag 101
is limit 103
is job 105
is reading 106
is tick 108
is pick 106
is note 110
is strike 111
is hand_in 115
is decision 117
is pass_over 118
is close_item 119
is confirm 121
is change 128
is photo 132
is plan 133
is reading.heights 134
is reading.centering 134
is reading.track_bar 136
is reading.drag_link 138
is reading.play 142
is reading.clearance 149
is reading.torque 151
is pick.heights.standing 153
is pick.centering.face 154
is pick.centering.method 155
is pick.centering.left_extra 156
is pick.centering.right_extra 156
is pick.centering.rail_point_height 157
is pick.centering.face_point_height 157
is pick.centering.tilt_deg 160
is pick.centering.high_side 161
is pick.track_bar.frame_end 162
is pick.track_bar.adjuster 163
is pick.track_bar.carried 164
is pick.drag_link.frame_end 162
is pick.drag_link.arm_points 165
is pick.drag_link.adjuster 163
is pick.drag_link.ratio 166
is pick.drag_link.carried 164
is pick.drag_link.wheel_deg 170
is pick.play.limit 172
is pick.play.loose 176
is pick.clearance.apart 178
is pick.torque.recheck 179
`;
