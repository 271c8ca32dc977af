{# How far a score can be trusted, from variance components (Cronbach et al. 1972; Brennan 2001).

   wanted     variance of what is measured (between classes), 0 or more
   relative   error variance of differences between classes, of a mean over the looks taken
   absolute   error variance of the score itself: relative plus observers and occasions as such
   Null when both variances are 0.
   g_coefficient   for comparing; phi_coefficient: for saying how high a score is.
#}
{% macro g_coefficient(wanted, relative) -%}
    (1.0 * ({{ wanted }}) / nullif(({{ wanted }}) + ({{ relative }}), 0.0))
{%- endmacro %}


{% macro phi_coefficient(wanted, absolute) -%}
    (1.0 * ({{ wanted }}) / nullif(({{ wanted }}) + ({{ absolute }}), 0.0))
{%- endmacro %}


{# The same for a decision against a criterion: phi(lambda) of Brennan & Kane (1977).

   mean, criterion   on the scale of the scores
   mean_variance     sampling variance of the mean, taken off the squared distance, which is too
                     large by as much; 0 leaves it in
   Grows with the distance of the mean from the criterion; never below phi.
#}
{% macro phi_at_criterion(wanted, absolute, mean, criterion, mean_variance='0.0') -%}
    {%- set distance = not_below_zero(
        '(power((' ~ mean ~ ') - (' ~ criterion ~ '), 2) - (' ~ mean_variance ~ '))') -%}
    {%- set above = '((' ~ wanted ~ ') + (' ~ distance ~ '))' -%}
    ({{ above }} / nullif({{ above }} + ({{ absolute }}), 0.0))
{%- endmacro %}
