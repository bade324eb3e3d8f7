## Needs the review of a native speaker.

standing-nobody-answered = Nadie ha contestado todavía por esta casa.
standing-no-heater = No hay ningún calentador en servicio en el registro.

standing-head-in-warranty = Este calentador está en garantía.
    .probably = Este calentador probablemente está en garantía: { $doubt }.
standing-head-past-warranty = La garantía de este calentador ya terminó.
    .probably = La garantía de este calentador probablemente ya terminó: { $doubt }.
standing-head-past-twice-warranty = Este calentador ya pasó dos veces el plazo de su garantía.
    .probably = Este calentador probablemente ya pasó dos veces el plazo de su garantía: { $doubt }.
standing-doubt-term = es seguro si el plazo era de { $term } años
standing-doubt-date = la fecha no se conoce bastante bien para estar seguros
standing-doubt-both = es seguro solo si el plazo era de { $term } años y la fecha es correcta
standing-head-unknown = No se sabe la edad de este calentador.
standing-age = Tiene unos **{ $best } { $count ->
    [one] año
   *[other] años
 }**.
standing-age-between = Tiene unos **{ $best } años** (entre { $low } y { $high }).
standing-warranty-ends = Su garantía termina hacia **{ $when }**.
standing-warranty-ended = Su garantía terminó hacia **{ $when }**.
standing-warranty-ends-soon = **Falta menos de un año: haga que lo revisen y reclame lo que esté mal antes de esa fecha.**
standing-multiple = Su edad es { $times } veces el plazo de su garantía.
standing-care = Cuidado
standing-surer = Para estar más seguros: busque la fecha y la garantía en la placa de datos, o encuentre el permiso o la factura. Luego corrija su respuesta.

rests-no-date = No se conoce la fecha de instalación: una foto de la placa de datos, un permiso o una factura lo aclararía.
rests-document = un permiso o una factura
rests-data-plate = la fecha impresa en la placa de datos
rests-date-code = un código de fecha leído en la placa de datos
rests-house-completion = el año en que se terminó la casa, porque es su primer calentador
rests-memory = lo que recuerda el residente
rests-date = La fecha se basa en { $what }.
rests-date-rough = La fecha se basa en { $what }, con un margen de unos ±{ $months } meses.
rests-term-assumed = No se conoce el plazo de la garantía; se suponen { $term } años.

care-name-flush = Lavado del tanque
care-name-anode = Ánodo
care-name-relief-valve = Válvula de alivio
care-mark-not-due = ✓ Todavía no toca
care-mark-window-closing = ◔ El buen momento se acaba
care-mark-due = ● Ya toca
care-mark-window-passed = ✕ El buen momento ya pasó
care-mark-ask-a-contractor-first = ! Pregunte antes a un contratista
care-mark-not-known = ? No se sabe
care-mark-does-not-apply = – No se aplica
care-in-month = en { $when }
care-in-year = en { $when }
care-around-year = hacia { $when }

care-tankless = Un calentador sin tanque no tiene tanque que lavar ni ánodo; siga las instrucciones del fabricante para quitar el sarro.

care-flush-fine = Se lavó { $last }; el próximo lavado toca en { $when }.
care-flush-due = El último lavado fue { $last }; toca desde { $when }.
care-flush-no-age = No se sabe ni la edad ni el último lavado.
care-flush-never-old = No se ha lavado nunca en { $years } años. Remover el sedimento viejo puede causar una fuga, o la válvula de drenaje puede no cerrar otra vez: deje que decida un contratista con licencia.
care-flush-none-old = No se sabe de ningún lavado en { $years } años. Remover el sedimento viejo puede causar una fuga, o la válvula de drenaje puede no cerrar otra vez: deje que decida un contratista con licencia.
care-flush-first-was = No se ha lavado nunca; el primer lavado tocaba en { $when }.
care-flush-first-is = No se ha lavado nunca; el primer lavado toca en { $when }.
care-flush-unknown = Nadie sabe cuándo se lavó por última vez. Lo usual es una vez al año.

care-anode-fine = El ánodo se atendió { $last }; la próxima revisión toca en { $when }.
care-anode-due = El ánodo se atendió por última vez { $last }; un contratista debe revisarlo de nuevo, toca desde { $when }.
care-anode-no-age = No se sabe ni la edad ni si se atendió el ánodo.
care-anode-spent = El equipo que lo revisó en { $when } lo encontró gastado. Ya toca poner uno nuevo: es trabajo para un contratista con licencia.
care-anode-first-between = El primer cambio del ánodo conviene hacerlo entre { $from } y { $when }.
care-anode-never-closing = El ánodo no se ha cambiado nunca. El buen momento para el primer cambio termina en { $when }: después el tapón puede quedar pegado. Es trabajo de un contratista con licencia.
care-anode-unknown-closing = No se sabe si el ánodo se ha cambiado. El buen momento para el primer cambio termina en { $when }: después el tapón puede quedar pegado. Es trabajo de un contratista con licencia.
care-anode-never-late = El ánodo no se ha cambiado nunca, y el buen momento para el primer cambio pasó en { $when }. El tapón puede estar pegado: un contratista con licencia decide si se intenta.
care-anode-unknown-late = No se sabe si el ánodo se ha cambiado, y el buen momento para el primer cambio pasó en { $when }. El tapón puede estar pegado: un contratista con licencia decide si se intenta.

care-relief-fine = La válvula de alivio se probó { $last }; la próxima prueba toca en { $when }.
care-relief-due = La válvula de alivio se probó por última vez { $last }; toca desde { $when }.
care-relief-old = No se sabe de ninguna prueba de la válvula de alivio en { $years } años. Una válvula vieja que se abre puede no cerrar bien otra vez: pida a un contratista con licencia que la revise.
care-relief-tested-old = Válvula de alivio probada { $last }. Hasta donde se sabe, es tan vieja como el calentador: unos { $years } años. La palanca solo muestra que se mueve. Pida a un contratista con licencia que la saque y la revise, o que la cambie.
care-relief-first-was = No se sabe de ninguna prueba de la válvula de alivio; la primera tocaba en { $when }.
care-relief-first-is = No se sabe de ninguna prueba de la válvula de alivio; la primera toca en { $when }.
care-relief-unknown = No se sabe de ninguna prueba de la válvula de alivio.

care-cautions-head = Antes de que alguien toque un calentador
care-cautions-line = Trabajar en un calentador puede lastimar: gas, agua que quema, presión, monóxido de carbono, electricidad. Es cosa de un contratista con licencia. El código local y las instrucciones del fabricante van primero.
care-cautions-link = Los cuidados completos
care-cautions-short = ¿Huele a gas? { -gas-out } ¿Se abrió la válvula de alivio? No se acerque y llame ya a un contratista con licencia. El agua caliente quema. Las líneas de gas, los ánodos, las válvulas de alivio y los reemplazos son trabajo de un contratista con licencia. El código local y las instrucciones del fabricante van antes que todo lo que se dice aquí.

odds-head = Qué se puede esperar
odds-of-100 = De 100 calentadores como el suyo, unos **{ $mean }** fallan en los próximos 12 meses (entre { $low } y { $high }).
odds-average = El promedio de este vecindario es { $average } de 100.
odds-local = Esto se basa en las respuestas de este vecindario ({ $failures } calentadores que se acabaron, con fecha) y en la vida de los calentadores que se ha publicado. De lo que se sabe de la vida típica, unas { $weight } de 100 partes vienen del vecindario.
odds-prior = Aquí hay todavía muy pocas respuestas. Por eso esto se basa solo en la vida de los calentadores que se ha publicado.
odds-limits = Nadie puede decir cuáles. Importa dónde está el calentador y cómo se ha cuidado, y el efecto del cuidado no está probado.
odds-none = Sin una edad no se puede estimar. La fecha de la placa de datos bastaría.
odds-picture = Cada marca es un calentador de 100 como el suyo. Las marcas oscuras fallan en los próximos 12 meses.
odds-picture-this = el suyo
odds-picture-average = promedio

## Lo que se avisó y no está resuelto. { $what } es lo que se notó, o lo que encontró un equipo de servicio; { $day } es un día escrito.

reported-you = El { $day } usted nos avisó: { $what }.
    .undated = Usted nos avisó: { $what }.
reported-home = El { $day } esta casa avisó: { $what }.
    .undated = Esta casa avisó: { $what }.
reported-crew = El { $day } el equipo de servicio encontró: { $what }.
    .undated = El equipo de servicio encontró: { $what }.
reported-found-anode-spent = el ánodo está gastado
reported-found-drain-valve-will-not-close = la válvula de drenaje no cierra
reported-next = Qué hacer ahora
reported-next-anode = Un contratista con licencia debería poner un ánodo nuevo. Hasta entonces el tanque se oxida más rápido.
reported-no-odds = Mientras esto no esté resuelto, no damos probabilidades para este calentador ni decimos si conviene reemplazarlo: lo que vale para otros calentadores no vale para este.
reported-settled = Ya está resuelto
reported-settled-help = Dígalo solo cuando haya terminado. Entonces ya no aparece primero en sus páginas. Si vuelve, avise otra vez.
reported-tick = Un contratista con licencia lo ha revisado
reported-tick-utility = La compañía de gas o los bomberos dijeron que es seguro
reported-when = ¿Desde cuándo?
reported-send = Sí, está resuelto
reported-thanks = Gracias. Queda anotado como resuelto. Para deshacerlo, retire esa respuesta en Mi registro.
reported-settled-on = Está resuelto desde el { $day }.
reported-wrong-day = Ese día aún no llega, o es anterior al aviso. Elija el día en que se resolvió.
reported-wrong-tick = Esto no lo pueden juzgar solas las personas de la casa. Marque quién lo revisó; si todavía nadie, déjelo abierto.
reported-wrong-gone = Eso ya no está abierto. Mire la página otra vez.
