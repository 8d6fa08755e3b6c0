"""Further phrases of the kinds in the published list, with what the rules at its head make of them.

Ours, by the usage of the trade, no source. Each row: phrase | work | step | action | value and unit. A step is "-" or
words such as "in", "in 1.996..2.000", "deg what=angle", "mm div=0.01"; limits may be open ("thou ..2").
"""

PHRASES = """
# thou, tenths and parts in inch work
six and a half thou                    | inch   | in            | take      | 0.0065 in
two thou and a half                    | inch   | in            | take      | 0.0025 in
two thou and a quarter                 | inch   | in            | take      | 0.00225 in
three quarters of a thou               | inch   | in            | take      | 0.00075 in
half thou                              | inch   | in            | take      | 0.0005 in
a half thou                            | inch   | in            | take      | 0.0005 in
seventeen thou                         | inch   | in            | read back | 0.017 in
eighty thou                            | inch   | in            | read back | 0.080 in
twelve thou                            | inch   | in            | take      | 0.012 in
sixty five thou                        | inch   | in            | take      | 0.065 in
two thou three tenths                  | inch   | in            | take      | 0.0023 in
two thou and three tenths              | inch   | in            | take      | 0.0023 in
a hundred and fifteen thou             | inch   | in            | read back | 0.115 in
one hundred twenty thou                | inch   | in            | take      | 0.120 in
point five of a thou                   | inch   | in            | take      | 0.0005 in
two of a thou                          | inch   | in            | ask again |
half of the turn                       | metric | deg           | take      | 180 deg
half of thou                           | inch   | in            | take      | 0.0005 in
nought point five thou                 | inch   | in            | take      | 0.0005 in
two point two five thou                | inch   | in            | take      | 0.00225 in
three tenths                           | inch   | in            | take      | 0.0003 in
half a tenth                           | inch   | in            | take      | 0.00005 in
three and a half tenths                | inch   | in            | take      | 0.00035 in
two tenths of a thou                   | inch   | in            | take      | 0.0002 in
fifteen tenths                         | inch   | in            | read back | 0.0015 in
a hundredth of an inch                 | inch   | in            | take      | 0.01 in
five hundredths                        | inch   | in            | read back | 0.05 in
seven thousandths                      | inch   | in            | take      | 0.007 in
seven thousandths of an inch           | inch   | in            | take      | 0.007 in
forty thousandths                      | inch   | in            | read back | 0.040 in
three ten thousandths                  | inch   | in            | take      | 0.0003 in
a ten thousandth                       | inch   | in            | take      | 0.0001 in
twenty five ten thousandths            | inch   | in            | take      | 0.0025 in
two and seven thousandths              | inch   | in            | take      | 2.007 in
two and fifteen thousandths            | inch   | in            | read back | 2.015 in
two and three tenths                   | inch   | thou          | take      | 2.3 thou
two and three tenths                   | inch   | in            | ask again |
two inches and five thou               | inch   | in            | take      | 2.005 in
three hundred thousandths              | inch   | in            | ask again |
two hundred and five thousandths       | inch   | in            | ask again |
three thousand                         | inch   | in            | ask again |
a thousand                             | inch   | in            | ask again |
three mils                             | inch   | -             | ask again |
# metric lengths
three tenths                           | metric | mm            | take      | 0.3 mm
twelve hundredths                      | metric | mm            | take      | 0.12 mm
sixteen hundredths                     | metric | mm            | read back | 0.16 mm
one twenty nine hundredths             | metric | mm            | read back | 1.29 mm
four and a half hundredths             | metric | mm            | take      | 0.045 mm
seven thousandths                      | metric | mm            | take      | 0.007 mm
five hundredths of a millimetre        | metric | mm            | take      | 0.05 mm
ten microns                            | metric | mm            | take      | 0.010 mm
fifteen microns                        | metric | mm            | read back | 0.015 mm
a micron                               | metric | mm            | take      | 0.001 mm
two and a half                         | metric | mm            | take      | 2.5 mm
one point two nine                     | metric | mm            | take      | 1.29 mm
oh point oh two                        | metric | mm            | take      | 0.02 mm
point two five                         | metric | mm            | take      | 0.25 mm
eight oh point oh one                  | metric | mm            | take      | 80.01 mm
eighty point oh one                    | metric | mm            | read back | 80.01 mm
eighty point oh one                    | metric | mm 79.95..80.05 | take    | 80.01 mm
seventy four point fifteen             | metric | mm            | read back | 74.15 mm
two millimetres                        | metric | mm            | take      | 2 mm
# units that are not the step's
five thou                              | metric | mm            | read back | 0.005 in
a quarter of an inch                   | metric | mm            | read back | 0.25 in
a hundredth of a millimetre            | inch   | in            | read back | 0.01 mm
two millimetres                        | inch   | in            | read back | 2 mm
five microns                           | inch   | thou          | read back | 5 um
point one two millimeters              | inch   | thou          | read back | 0.12 mm
thirty three foot pounds               | metric | N_m           | read back | 33 ft_lb
twenty five inch pounds                | inch   | ft_lb         | read back | 25 in_lb
thirty two psi                         | metric | bar           | read back | 32 psi
a hundred and eighty two fahrenheit    | metric | degC what=temperature | read back | 182 degF
two pounds                             | metric | kg what=mass  | read back | 2 lb
sixty five newton metres               | metric | mm            | ask again |
four thou                              | metric | N_m           | ask again |
twenty degrees                         | metric | mm            | ask again |
a second                               | metric | s what=time   | take      | 1 s
one minute thirty                      | metric | s what=time   | read back | 90 s
two hours ten                          | metric | min what=time | take      | 130 min
five minutes twenty seconds            | metric | s what=time   | take      | 320 s
two pounds four ounces                 | inch   | lb            | take      | 2.25 lb
two thou five inches                   | inch   | in            | ask again |
one and five thousandths of an inch    | metric | mm            | read back | 1.005 in
two and three tenths                   | metric | mm            | take      | 2.3 mm
two and three tenths                   | metric | bar           | read back | 2.3 bar
minus five newton metres               | metric | N_m           | read back | -5 N_m
minus half a bar                       | metric | bar           | take      | -0.5 bar
# oversizes, undersizes, deviations and heights
ten thou over                          | inch   | what=oversize | take      | 0.010 in
sixty over                             | inch   | what=oversize | read back | 0.060 in
twenty over                            | inch   | what=oversize | read back | 0.020 in
thirty over                            | metric | what=oversize | ask again |
quarter millimetre over                | metric | what=oversize | take      | 0.25 mm
point five over                        | metric | what=oversize | read back | 0.5 mm
twenty thou over                       | metric | what=oversize | read back | 0.020 in
twenty under                           | inch   | what=undersize | read back | -0.020 in
standard                               | metric | what=oversize | take      | 0 mm
standard                               | inch   | in            | not a value |
one under                              | inch   | thou          | take      | -1 thou
two thou under                         | inch   | thou          | take      | -2 thou
sixteen proud                          | inch   | thou what=height | read back | 16 thou
sixteen proud                          | inch   | thou 10..22 what=height | take | 16 thou
two below                              | inch   | thou what=height | take    | -2 thou
proud by twelve                        | inch   | thou what=height | take    | 12 thou
flush                                  | inch   | thou what=height | take    | 0 thou
bang on                                | inch   | thou what=deviation | take | 0 thou
bang on                                | metric | mm            | ask again |
two tenths oval                        | inch   | in what=out of round | take | 0.0002 in
end float six thou                     | inch   | in what=end float | take  | 0.006 in
two thou over                          | inch   | in 2.9130..2.9138 | read back | 0.002 in
two over                               | metric | N_m           | ask again |
five below                             | metric | degC what=temperature | read back | -5 degC
thirty thou over standard              | inch   | what=oversize | read back | 0.030 in
point oh two oh over                   | inch   | what=oversize | read back | 0.020 in
one point five over                    | inch   | what=oversize | read back | 0.0015 in
seven eighths over                     | inch   | what=oversize | read back | 0.875 in
# inch fractions
five eighths                           | inch   | in            | take      | 0.625 in
two and three thirty seconds           | inch   | in            | take      | 2.09375 in
one and seven sixteenths               | inch   | in            | take      | 1.4375 in
thirteen sixty fourths                 | inch   | in            | take      | 0.203125 in
a sixteenth                            | inch   | in            | take      | 0.0625 in
three eighths of an inch               | metric | mm            | read back | 0.375 in
five sixteenths                        | metric | mm            | ask again |
five sixteenths                        | inch   | thou          | ask again |
two and a half inches                  | inch   | in            | take      | 2.5 in
an inch and three eighths              | inch   | in            | take      | 1.375 in
three quarters                         | inch   | in            | read back | 0.75 in
fifteen thirty seconds                 | metric | s what=time   | ask again |
# figures, and where the point goes
two oh oh one                          | inch   | in 1.998..2.002 | read back | 2.001 in
two nine one three four                | inch   | in 2.9130..2.9138 | read back | 2.9134 in
nineteen ninety eight                  | inch   | in 1.996..2.000 | read back | 1.998 in
one nine nine one                      | inch   | in 1.996..2.000 | read back | 1.991 in
oh one five                            | inch   | in 0.010..0.020 | read back | 0.015 in
double nine eight                      | inch   | in 0.996..1.002 | read back | 0.998 in
seven nine nine eight                  | metric | mm 79.95..80.00 | read back | 79.98 mm
five oh two                            | metric | N_m 480..520  | take      | 502 N_m
three fifty                            | inch   | in_lb 330..370 | read back | 350 in_lb
three seventy five                     | inch   | -             | ask again |
oh eight                               | metric | -             | ask again |
two one four                           | metric | mm            | ask again |
nine one three and a half              | inch   | in 2.9130..2.9138 | ask again |
nine one three four                    | inch   | in 2.9130..2.9138 | ask again |
seventy four nine                      | metric | mm 74.80..75.00 | ask again |
five                                   | inch   | in 0.003..0.008 | read back | 0.005 in
two and a quarter                      | inch   | in 0.0015..0.0030 | read back | 0.00225 in
two thousand                           | inch   | in 0.0015..0.0030 | read back | 0.002 in
two thousand                           | metric | mm            | ask again |
two thousand                           | metric | mm 1900..2100 | read back | 2000 mm
three hundred                          | metric | mm            | ask again |
three hundred                          | metric | mm 0.01..0.05 | read back | 0.03 mm
forty                                  | metric | mm 95.38..95.42 | ask again |
four and a half                        | inch   | in 2.9043..2.9047 | ask again |
twelve                                 | metric | mm 0.10..0.25 | read back | 0.12 mm
twelve                                 | inch   | in            | ask again |
oh nine                                | metric | N_m 8..10 res=1 | take    | 9 N_m
oh two five                            | inch   | in            | read back | 0.025 in
oh two five                            | metric | mm            | ask again |
oh oh five                             | metric | mm 0.002..0.008 | read back | 0.005 mm
two point oh three                     | inch   | in 0.0015..0.0030 res=0.0001 | read back | 0.00203 in
point oh oh two five                   | inch   | thou          | ask again |
point oh oh two five                   | inch   | thou 1.5..3.0 | read back | 2.5 thou
one and a half                         | metric | mm 0.010..0.020 res=0.005 | read back | 0.015 mm
two two                                | metric | N_m 20..25    | read back | 22 N_m
four and a half                        | inch   | in            | ask again |
two point five                         | inch   | in            | ask again |
two point three seven five             | inch   | in            | take      | 2.375 in
one point two five                     | inch   | in            | take      | 1.25 in
# too coarse for the limits
seventy four point oh                  | metric | mm 73.98..74.02 | ask again |
two point three seven                  | inch   | in 2.3735..2.3745 | ask again |
two                                    | inch   | thou 1.5..3.0 | ask again |
three and a half                       | inch   | thou 1.5..3.0 | take      | 3.5 thou
two and a quarter                      | inch   | thou 1.5..3.0 | take      | 2.25 thou
two point eight                        | inch   | thou 1.5..3.0 | take      | 2.8 thou
four                                   | inch   | thou 3..6 res=0.5 | take  | 4 thou
# points and noughts
eighty point                           | metric | mm            | ask again |
three point four point                 | metric | mm            | ask again |
point one two five                     | inch   | in            | take      | 0.125 in
point triple oh two                    | inch   | in            | take      | 0.0002 in
one point two five zero                | metric | mm            | take      | 1.250 mm
nought                                 | metric | mm div=0.01   | take      | 0 mm
nil                                    | inch   | thou          | take      | 0 thou
oh                                     | inch   | thou          | ask again |
zero zero                              | metric | mm            | ask again |
# torque, pressure, mass, speed
forty newton metres                    | metric | N_m 10..95    | read back | 40 N_m
forty newton metres                    | metric | N_m 35..45    | take      | 40 N_m
fifteen newton meters                  | metric | N_m 12..18    | take      | 15 N_m
fifteen                                | metric | N_m 48..52    | read back | 15 N_m
twenty five                            | metric | N_m           | take      | 25 N_m
eight and a half newton metres         | metric | N_m           | take      | 8.5 N_m
fifteen and a half newton metres       | metric | N_m           | read back | 15.5 N_m
two hundred newton metres              | metric | N_m           | take      | 200 N_m
hundred newton metres                  | metric | N_m           | read back | 100 N_m
forty five pound foot                  | inch   | ft_lb         | take      | 45 ft_lb
forty five pounds                      | inch   | what=torque   | ask again |
sixty pound                            | inch   | ft_lb what=torque | ask again |
forty five pounds                      | inch   | psi what=pressure | take  | 45 psi
one kilo                               | metric | what=torque   | ask again |
three kilos                            | metric | kg what=mass  | take      | 3 kg
eight kilogram metres                  | metric | kgf_m         | take      | 8 kgf_m
two bar                                | metric | bar           | take      | 2 bar
nought point five bar                  | metric | bar           | take      | 0.5 bar
a thousand and thirteen                | metric | rpm           | read back | 1013 rpm
eighteen hundred                       | metric | rpm           | read back | 1800 rpm
twelve hundred                         | metric | rpm           | take      | 1200 rpm
two thousand five hundred              | metric | rpm           | take      | 2500 rpm
two thousand                           | metric | rpm           | take      | 2000 rpm
# angles and temperatures
a full turn                            | metric | deg what=angle | take     | 360 deg
one whole turn                         | metric | deg what=angle | take     | 360 deg
half a turn                            | metric | deg what=angle | take     | 180 deg
a turn and a quarter                   | metric | deg what=angle | take     | 450 deg
two flats                              | metric | deg what=angle, hexagon | take | 120 deg
a third of a turn                      | metric | deg what=angle | take     | 120 deg
forty five degrees                     | metric | deg what=angle | take     | 45 deg
sixty degrees                          | metric | deg what=angle | read back | 60 deg
a hundred and eighty degrees           | metric | deg what=angle | read back | 180 deg
a quarter                              | metric | deg what=angle | read back | 90 deg
a third                                | metric | deg what=angle | read back | 120 deg
two thirds                             | metric | mm            | ask again |
three quarters                         | metric | bar           | read back | 0.75 bar
a quarter                              | inch   | in 0.0002..0.0004 res=0.0003 | read back | 0.00025 in
twenty three degrees                   | metric | degC what=temperature | take | 23 degC
minus twelve                           | metric | degC what=temperature | take | -12 degC
minus fifteen                          | metric | degC what=temperature | read back | -15 degC
three degrees                          | metric | delta_degC    | take      | 3 delta_degC
two twenty                             | inch   | degF 200..240 | read back | 220 degF
# dials and signs
one turn and twenty five               | metric | mm div=0.01 what=dial, 1 mm a turn | read back | 1.25 mm
plus four                              | metric | mm div=0.01 what=dial | read back | 0.04 mm
four divisions                         | metric | mm div=0.01 what=dial | take | 0.04 mm
plus three                             | inch   | thou          | take      | 3 thou
minus three tenths                     | inch   | in            | take      | -0.0003 in
plus or minus two                      | inch   | thou          | ask again |
plus one                               | inch   | -             | ask again |
# hedges
roughly six thou                       | inch   | in            | ask again |
six thou or so                         | inch   | in            | ask again |
nearly three thou                      | inch   | in            | ask again |
maybe four thou                        | inch   | in            | ask again |
a shade under two thou                 | inch   | in            | ask again |
just under two thou                    | inch   | in            | ask again |
four thou ish                          | inch   | in            | ask again |
say five thou                          | inch   | in            | ask again |
i think it's five thou                 | inch   | in            | ask again |
five thou give or take                 | inch   | in            | ask again |
a couple of thou                       | inch   | in            | ask again |
two and a bit thou                     | inch   | in            | ask again |
a thou or so                           | inch   | in            | ask again |
about a thou                           | inch   | in            | ask again |
a good four thou                       | inch   | in            | ask again |
fourish thou                           | inch   | in            | ask again |
twenty-ish newton metres               | metric | N_m           | ask again |
a tad over two thou                    | inch   | in            | ask again |
a bit more than two thou               | inch   | in            | ask again |
not quite five thou                    | inch   | in            | ask again |
fifty or sixty newton metres           | metric | N_m           | ask again |
# ranges and two numbers
three or four thou                     | inch   | in            | ask again |
from two to three thou                 | inch   | in            | ask again |
two to three                           | inch   | thou          | ask again |
four thou five thou                    | inch   | in            | ask again |
ten ten thou                           | inch   | in            | ask again |
five five thou                         | inch   | in            | ask again |
# bounds
more than five thou                    | inch   | in            | bound     | 0.005 in
at least three thou                    | inch   | in            | bound     | 0.003 in
under four thou                        | inch   | in            | bound     | 0.004 in
over six thou                          | inch   | in            | bound     | 0.006 in
four thou won't go                     | inch   | in            | bound     | 0.004 in
six goes seven won't                   | inch   | thou          | bound     | 6 thou
twelve goes, thirteen won't            | inch   | thou          | bound     | 12 thou
two thou goes and three doesn't        | inch   | in            | bound     | 0.002 in
eight goes nine nips                   | inch   | thou          | bound     | 8 thou
two goes three won't                   | inch   | thou 1..3     | bound     | 2 thou
ten goes eleven nips twelve won't      | inch   | thou          | bound     | 11 thou
two thou just goes                     | inch   | in            | bound     | 0.002 in
less than a thou                       | inch   | in            | bound     | 0.001 in
two goes easy three won't              | inch   | thou          | bound     | 2 thou
nine nips                              | inch   | thou          | bound     | 9 thou
five hundredths goes six does not      | metric | mm            | bound     | 0.05 mm
three thou goes two does not           | inch   | in            | ask again |
less than about two thou               | inch   | in            | ask again |
# corrections
six no seven thou                      | inch   | in            | read back | 0.007 in
four thou no five                      | inch   | in            | read back | 0.005 in
four thou sorry five thou              | inch   | in            | read back | 0.005 in
ten newton metres no twelve            | metric | N_m           | read back | 12 N_m
five thou i mean six thou              | inch   | in            | read back | 0.006 in
correction six thou                    | inch   | in            | read back | 0.006 in
four thou no                           | inch   | in            | ask again |
# no value at all, and numbers with words round them
skip it                                | inch   | in            | not a value |
next                                   | metric | mm            | not a value |
no go                                  | inch   | in            | not a value |
pass                                   | metric | N_m           | not a value |
measure again                          | inch   | in            | not a value |
turn the crank                         | inch   | in            | not a value |
second                                 | inch   | thou          | not a value |
wait a minute                          | inch   | in            | not a value |
hold on                                | inch   | in            | not a value |
undo that                              | metric | N_m           | not a value |
it was four thou last time             | inch   | in            | ask again |
number four is two thou                | inch   | in            | ask again |
leave that one                         | inch   | thou          | ask again |
thou                                   | inch   | in            | ask again |
tenths                                 | metric | mm            | ask again |
in                                     | inch   | in            | not a value |
a bar                                  | metric | mm            | not a value |
a tenth or so                          | metric | mm            | ask again |
and a half                             | inch   | thou          | ask again |
# ratios
nine to one                            | inch   | what=ratio    | take      | 9 1
ten and a half to one                  | inch   | what=ratio    | take      | 10.5 1
nine point five to one                 | inch   | what=ratio    | take      | 9.5 1
# typed figures
2.25 thou                              | inch   | thou          | take      | 2.25 thou
25 N·m                                 | metric | N_m           | take      | 25 N_m
15 N·m                                 | metric | N_m           | take      | 15 N_m
60 nm                                  | metric | N_m 10..95    | take      | 60 N_m
0.0015                                 | inch   | in            | take      | 0.0015 in
-0.002                                 | inch   | in            | take      | -0.002 in
95.40                                  | metric | mm 95.38..95.42 | take    | 95.40 mm
3/8                                    | inch   | in            | take      | 0.375 in
1 1/2 in                               | inch   | in            | take      | 1.5 in
82°C                                   | metric | degC what=temperature | take | 82 degC
10mm                                   | metric | mm            | take      | 10 mm
4-5 thou                               | inch   | in            | ask again |
1,5                                    | metric | mm            | ask again |
33 ft-lb                               | inch   | ft_lb         | take      | 33 ft_lb
"""
