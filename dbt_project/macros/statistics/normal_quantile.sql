{# Inverse of the standard normal distribution: Wichura (1988), AS 241, PPND16.

   Relative error about 1e-16 for 1e-300 < p < 1; null outside (0, 1). Rational functions only, so
   every engine gives the same. `p` may be a column or a number; a number is folded once.
#}
{% macro normal_quantile(p) -%}
    {{ let_in('quantile_p', 'cast(' ~ p ~ ' as double)', normal_quantile_body()) }}
{%- endmacro %}


{# The quantile that leaves half of what a two-sided level leaves out above it: 1.96 for 0.95. #}
{% macro two_sided_z(level) -%}
    {{ normal_quantile('1.0 - (1.0 - ' ~ level ~ ') / 2.0') }}
{%- endmacro %}


{% macro polynomial(variable, coefficients) -%}
    {%- set ns = namespace(text='cast(' ~ coefficients[0] ~ ' as double)') -%}
    {%- for one in coefficients[1:] -%}
        {%- set ns.text = '(' ~ ns.text ~ ' * ' ~ variable ~ ' + (' ~ one ~ '))' -%}
    {%- endfor -%}
    {{- ns.text -}}
{%- endmacro %}


{% macro normal_quantile_body() -%}
    {%- set a = ['2509.0809287301226727', '33430.575583588128105', '67265.770927008700853',
        '45921.953931549871457', '13731.693765509461125', '1971.5909503065514427',
        '133.14166789178437745', '3.387132872796366608'] -%}
    {%- set b = ['5226.495278852545925', '28729.085735721942674', '39307.89580009271061',
        '21213.794301586595867', '5394.1960214247511077', '687.1870074920579083',
        '42.313330701600911252', '1.0'] -%}
    {%- set c = ['7.7454501427834140764e-4', '0.0227238449892691845833', '0.24178072517745061177',
        '1.27045825245236838258', '3.64784832476320460504', '5.7694972214606914055',
        '4.6303378461565452959', '1.42343711074968357734'] -%}
    {%- set d = ['1.05075007164441684324e-9', '5.475938084995344946e-4',
        '0.0151986665636164571966', '0.14810397642748007459', '0.68976733498510000455',
        '1.6763848301838038494', '2.05319162663775882187', '1.0'] -%}
    {%- set e = ['2.01033439929228813265e-7', '2.71155556874348757815e-5',
        '0.0012426609473880784386', '0.026532189526576123093', '0.29656057182850489123',
        '1.7848265399172913358', '5.4637849111641143699', '6.6579046435011037772'] -%}
    {%- set f = ['2.04426310338993978564e-15', '1.4215117583164458887e-7',
        '1.8463183175100546818e-5', '7.868691311456132591e-4', '0.0148753612908506148525',
        '0.13692988092273580531', '0.59983220655588793769', '1.0'] -%}
    {%- set middle = '(0.180625 - (quantile_p - 0.5) * (quantile_p - 0.5))' -%}
    {%- set tail = 'sqrt(-ln(least(quantile_p, 1.0 - quantile_p)))' -%}
    {%- set near = '(' ~ tail ~ ' - 1.6)' -%}
    {%- set far = '(' ~ tail ~ ' - 5.0)' -%}
    case
        when not (quantile_p > 0.0 and quantile_p < 1.0) then null
        when abs(quantile_p - 0.5) <= 0.425
            then (quantile_p - 0.5) * {{ polynomial(middle, a) }} / {{ polynomial(middle, b) }}
        when {{ tail }} <= 5.0
            then sign(quantile_p - 0.5) * {{ polynomial(near, c) }} / {{ polynomial(near, d) }}
        else sign(quantile_p - 0.5) * {{ polynomial(far, e) }} / {{ polynomial(far, f) }}
    end
{%- endmacro %}
